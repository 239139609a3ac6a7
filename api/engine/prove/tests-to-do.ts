import type { CrankAsk, CrankNode, Observation } from '../../../catalog-schema/index.ts';

export type Instrument = 'meter' | 'clamp' | 'load-tester';

/** A test that may be proposed: what it asks, what it takes and what it risks. */
export interface CrankTest {
  /** the observation to fill in: its number, or what was seen, is left open */
  readonly ask: CrankAsk;
  readonly test: string;
  /** why it is worth doing, in the trade's words */
  readonly why: string;
  readonly instrument?: Instrument;
  readonly minutes: number;
  readonly risk: 'none' | 'low' | 'high';
}

const on = 'START held';
const volts = (startSwitch: boolean, plus: CrankNode, minus: CrankNode, where: string, why: string, minutes = 1.5): CrankTest => ({
  ask: { kind: 'volts', startSwitch, plus, minus },
  test: `Volts ${where}, ${startSwitch ? on : 'start switch off'}`, why, instrument: 'meter', minutes, risk: startSwitch ? 'low' : 'none',
});

/** Minutes are common practice, no source. Points are named as they are found, plus probe first. */
export const CRANK_TESTS: readonly CrankTest[] = [
  volts(false, 'battery+', 'battery-', 'across the battery posts', 'a flat battery shows it at rest', 0.7),
  volts(true, 'battery+', 'battery-', 'across the battery posts', 'how far the battery falls tells it from what hangs on it', 1),
  volts(true, 'battery+', 'battery+clamp', 'from the plus post to its clamp', 'any reading is a poor joint', 1),
  volts(true, 'battery-clamp', 'battery-', 'from the minus clamp to its post', 'any reading is a poor joint', 1),
  volts(true, 'battery+clamp', 'relay-battery-stud', 'from the plus clamp to the relay\'s battery stud', 'what the battery cable loses'),
  volts(true, 'relay-battery-stud', 'relay-starter-stud', 'across the two heavy studs of the relay', 'what the contact loses; full volts where it does not close'),
  volts(true, 'relay-starter-stud', 'starter-stud', 'from the relay\'s starter stud to the stud of the starter', 'what the starter cable loses'),
  volts(true, 'starter-stud', 'starter-case', 'across the starter, stud to case', 'whether the starter gets its volts', 2),
  volts(true, 'starter-case', 'battery-', 'from the starter\'s case to the minus post', 'what the whole ground side loses', 2),
  volts(true, 'chassis', 'battery-clamp', 'from the chassis to the minus clamp', 'what the ground of the frame loses'),
  volts(true, 'starter-case', 'chassis', 'from the starter\'s case to the chassis', 'what the ground of the engine loses', 2),
  volts(true, 'coil-feed', 'coil-return', 'across the coil of the relay', 'whether the coil is fed at all'),
  volts(true, 'coil-feed', 'chassis', 'from the coil\'s feed to the chassis', 'whether the feed is live'),
  volts(true, 'coil-return', 'chassis', 'from the coil\'s return to the chassis', 'full volts here: the return, with its switches, is open'),
  volts(true, 'relay-battery-stud', 'chassis', 'from the relay\'s battery stud to the chassis', 'what reaches the relay'),
  volts(false, 'relay-battery-stud', 'chassis', 'from the relay\'s battery stud to the chassis', 'whether the relay has the battery behind it', 1),
  volts(false, 'relay-starter-stud', 'chassis', 'from the relay\'s starter stud to the chassis', 'live with the switch off: the contact is stuck', 1),
  { ask: { kind: 'amps', startSwitch: true }, test: `Amps in the battery cable by clamp meter, ${on}`, why: 'no current, cranking current or a standing starter\'s', instrument: 'clamp', minutes: 1.5, risk: 'low' },
  { ask: { kind: 'sound', startSwitch: true }, test: 'Turn the switch to START and listen at the relay', why: 'silence, one click and rapid clicks come from different places', minutes: 0.5, risk: 'low' },
  { ask: { kind: 'crank', startSwitch: true }, test: 'Turn the switch to START and watch the engine', why: 'whether it turns, and how', minutes: 0.5, risk: 'low' },
  { ask: { kind: 'crank', startSwitch: false }, test: 'Watch the engine with the start switch off, battery on', why: 'an engine that turns by itself has a stuck contact', minutes: 0.5, risk: 'low' },
  { ask: { kind: 'turn-by-hand' }, test: 'Turn the engine by hand, spark lead off and grounded, battery negative off', why: 'only this tells a locked engine from a starter that drags', minutes: 3, risk: 'low' },
  { ask: { kind: 'battery-load', ratioOfCca: 0.5, seconds: 15 }, test: 'Load the charged battery with half its CCA for 15 s and read its volts at the end', why: 'a battery is bought only after it failed this; one that is merely flat is charged first', instrument: 'load-tester', minutes: 5, risk: 'low' },
  { ask: { kind: 'bridge-studs' }, test: 'Bridge the two heavy studs of the relay, start switch off', why: 'goes round the relay and all interlocks: only where no meter reading tells the same', minutes: 2, risk: 'high' },
];

/** Whether an observation of the case is the answer to a test. */
export function answers({ ask }: CrankTest, seen: Observation): boolean {
  if (ask.kind !== seen.kind) return false;
  switch (seen.kind) {
    case 'volts': return ask.kind === 'volts' && ask.startSwitch === seen.startSwitch && ((ask.plus === seen.plus && ask.minus === seen.minus) || (ask.plus === seen.minus && ask.minus === seen.plus));
    case 'sound': case 'crank': return (ask.kind === 'sound' || ask.kind === 'crank') && ask.startSwitch === (seen.startSwitch ?? true);
    case 'amps': case 'bridge-studs': case 'turn-by-hand': case 'battery-load': return true;
    default: throw new Error(`no such observation: ${JSON.stringify(seen satisfies never)}`);
  }
}
