import { BRIDGED_WORDS, BY_HAND_WORDS, CRANK_NODE_NAMES, CRANK_WORDS, HEARD_WORDS, type CrankAsk, type Observation } from '../../../catalog-schema/index.ts';
import { formatMeasured } from '../../format.ts';
import { proveWords } from '../../words/prove.ts';

/** An observation as it stands within a sentence: '11.8 V from plus clamp to chassis with START held'. */
export function sayInLine(seen: Observation): string {
  const { inLine } = proveWords;
  switch (seen.kind) {
    case 'volts': return inLine.volts(formatMeasured(seen.volts, 'V'), CRANK_NODE_NAMES[seen.plus], CRANK_NODE_NAMES[seen.minus], seen.startSwitch);
    case 'amps': return inLine.amps(formatMeasured(seen.amps, 'A'));
    case 'sound': return inLine.sound(HEARD_WORDS[seen.heard]);
    case 'crank': return inLine.crank(CRANK_WORDS[seen.seen], seen.startSwitch !== false);
    case 'bridge-studs': return inLine.bridged(BRIDGED_WORDS[seen.seen]);
    case 'turn-by-hand': return inLine.byHand(BY_HAND_WORDS[seen.seen]);
    case 'battery-load': return inLine.load(formatMeasured(seen.volts, 'V'));
  }
}

/** What a test of one's own choice is called. */
export function sayOtherTest(ask: CrankAsk): string {
  const { otherTests } = proveWords;
  switch (ask.kind) {
    case 'amps': case 'battery-load': case 'turn-by-hand': case 'bridge-studs': return otherTests[ask.kind];
    case 'crank': case 'sound': return otherTests['crank-off'];
    case 'volts': return proveWords.own;
  }
}
