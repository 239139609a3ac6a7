import type { CrankAsk, CrankNode, Observation } from '../../../catalog-schema/index.ts';
import { cautionOfBattery } from '../cautions.ts';

export type Instrument = 'meter' | 'clamp' | 'load-tester';
export type Risk = 'none' | 'low' | 'high';

/** A test that may be proposed: what it asks, what it takes and what it risks. */
export interface CrankTest {
  /** the observation to fill in: its number, or what was seen, is left open */
  readonly ask: CrankAsk;
  readonly test: string;
  /** why it is worth doing, in the trade's words */
  readonly why: string;
  readonly instrument?: Instrument;
  readonly minutes: number;
  readonly risk: Risk;
  /** a check that benches customarily make: what it says is not taken from there but from the circuit */
  readonly customary?: boolean;
}

const volts = (startSwitch: boolean, plus: CrankNode, minus: CrankNode, where: string, why: string, minutes = 1.5, customary = false): CrankTest => ({
  ask: { kind: 'volts', startSwitch, plus, minus },
  test: `Volts ${where}, ${startSwitch ? 'START held' : 'start switch off'}`, why, instrument: 'meter', minutes, risk: startSwitch ? 'low' : 'none', customary,
});

/** Minutes are common practice, no source. Points are named as they are found, plus probe first. */
export const CRANK_TESTS: readonly CrankTest[] = [
  volts(false, 'battery+', 'battery-', 'across the battery posts', 'a flat battery shows it at rest', 0.7),
  volts(true, 'battery+', 'battery-', 'across the battery posts', 'how far the battery falls tells it from what hangs on it', 0.8),
  volts(true, 'battery+', 'battery+clamp', 'from the plus post to its clamp', 'any reading is a poor joint', 1, true),
  volts(true, 'battery-clamp', 'battery-', 'from the minus clamp to its post', 'any reading is a poor joint', 1, true),
  volts(true, 'battery+clamp', 'relay-battery-stud', 'from the plus clamp to the relay\'s battery stud', 'what the battery cable loses'),
  volts(true, 'battery+', 'relay-battery-stud', 'from the plus post to the relay\'s battery stud', 'what post and battery cable lose together', 1.2),
  volts(true, 'battery+', 'starter-stud', 'from the plus post to the stud of the starter', 'what the whole plus side loses', 1.7),
  volts(true, 'relay-battery-stud', 'relay-starter-stud', 'across the two heavy studs of the relay', 'what the contact loses; full volts where it does not close', 1.5, true),
  volts(true, 'relay-starter-stud', 'starter-stud', 'from the relay\'s starter stud to the stud of the starter', 'what the starter cable loses'),
  volts(true, 'starter-stud', 'starter-case', 'across the starter, stud to case', 'whether the starter gets its volts', 2),
  volts(true, 'starter-case', 'battery-', 'from the starter\'s case to the minus post', 'what the whole ground side loses', 1.7),
  volts(true, 'chassis', 'battery-clamp', 'from the chassis to the minus clamp', 'what the ground of the frame loses'),
  volts(true, 'starter-case', 'chassis', 'from the starter\'s case to the chassis', 'what the ground of the engine loses', 2),
  volts(true, 'coil-feed', 'coil-return', 'across the coil of the relay', 'whether the coil is fed at all', 1.5, true),
  volts(true, 'coil-feed', 'chassis', 'from the coil\'s feed to the chassis', 'whether the feed is live'),
  volts(true, 'coil-return', 'chassis', 'from the coil\'s return to the chassis', 'full volts here: the return, with its switches, is open'),
  volts(true, 'relay-battery-stud', 'chassis', 'from the relay\'s battery stud to the chassis', 'what reaches the relay'),
  volts(false, 'relay-battery-stud', 'chassis', 'from the relay\'s battery stud to the chassis', 'whether the relay has the battery behind it', 1),
  volts(false, 'relay-starter-stud', 'chassis', 'from the relay\'s starter stud to the chassis', 'live with the switch off: the contact is stuck', 1),
  { ask: { kind: 'amps', startSwitch: true }, test: 'Amps in the battery cable by clamp meter, START held', why: 'no current, cranking current or a standing starter\'s', instrument: 'clamp', minutes: 1.5, risk: 'low' },
  { ask: { kind: 'sound', startSwitch: true }, test: 'Turn the switch to START and listen at the relay', why: 'silence, one click and rapid clicks come from different places', minutes: 0.5, risk: 'low', customary: true },
  { ask: { kind: 'crank', startSwitch: true }, test: 'Turn the switch to START and watch the engine', why: 'whether it turns, and how', minutes: 0.5, risk: 'low' },
  { ask: { kind: 'crank', startSwitch: false }, test: 'Watch the engine with the start switch off, battery on', why: 'an engine that turns by itself has a stuck contact', minutes: 0.5, risk: 'low' },
  { ask: { kind: 'turn-by-hand' }, test: 'Turn the engine by hand, spark lead off and grounded, battery negative off', why: 'only this tells a locked engine from a starter that drags', minutes: 3, risk: 'low', customary: true },
  { ask: { kind: 'battery-load', ratioOfCca: 0.5, seconds: 15 }, test: 'Load the charged battery with half its CCA for 15 s and read its volts at the end', why: 'a battery is bought only after it failed this; one that is merely flat is charged first', instrument: 'load-tester', minutes: 5, risk: 'low', customary: true },
  { ask: { kind: 'bridge-studs' }, test: 'Bridge the two heavy studs of the relay, start switch off', why: 'goes round the relay and all interlocks: only where no meter reading tells the same', minutes: 2, risk: 'high', customary: true },
];

/** What the checks that benches customarily make are taken from. */
export const CUSTOMARY = 'common practice, no source';

/** Whether an observation of the case is the answer to a test. */
export function answers(ask: CrankAsk, seen: Observation): boolean {
  if (ask.kind !== seen.kind) return false;
  switch (seen.kind) {
    case 'volts': return ask.kind === 'volts' && ask.startSwitch === seen.startSwitch && ((ask.plus === seen.plus && ask.minus === seen.minus) || (ask.plus === seen.minus && ask.minus === seen.plus));
    case 'sound': case 'crank': return (ask.kind === 'sound' || ask.kind === 'crank') && ask.startSwitch === (seen.startSwitch ?? true);
    case 'amps': case 'bridge-studs': case 'turn-by-hand': case 'battery-load': return true;
    default: throw new Error(`no such observation: ${JSON.stringify(seen satisfies never)}`);
  }
}

/** The test that an observation answered, to be done again. */
export function testOf(seen: Observation): CrankTest {
  const known = CRANK_TESTS.find(({ ask }) => ask.kind !== 'battery-load' && answers(ask, seen) && (ask.kind !== 'volts' || (seen.kind === 'volts' && ask.plus === seen.plus)));
  if (known) return known;
  switch (seen.kind) {
    case 'volts': return volts(seen.startSwitch, seen.plus, seen.minus, `from ${NAMES[seen.plus]} to ${NAMES[seen.minus]}`, 'as it was read before');
    case 'sound': return { ask: { kind: 'sound', startSwitch: seen.startSwitch ?? true }, test: 'Listen with the start switch off, battery on', why: 'as it was heard before', minutes: 0.5, risk: 'low' };
    case 'battery-load': {
      const load = CRANK_TESTS.find(({ ask }) => ask.kind === 'battery-load')!;
      return { ...load, ask: { kind: 'battery-load', ratioOfCca: seen.ratioOfCca, seconds: seen.seconds }, test: `Load the charged battery with ${Number((seen.ratioOfCca * 100).toPrecision(3))} % of its CCA for ${seen.seconds} s and read its volts at the end` };
    }
    case 'crank': case 'amps': case 'bridge-studs': case 'turn-by-hand': throw new Error(`${seen.kind} is in the list`);
    default: throw new Error(`no such observation: ${JSON.stringify(seen satisfies never)}`);
  }
}

const NAMES: Readonly<Record<CrankNode, string>> = {
  'battery+': 'the plus post itself, not its clamp', 'battery-': 'the minus post itself, not its clamp', 'battery+clamp': 'the clamp on the plus post', 'battery-clamp': 'the clamp on the minus post',
  'relay-battery-stud': 'the relay\'s battery stud', 'relay-starter-stud': 'the relay\'s starter stud', 'coil-feed': 'the coil\'s feed terminal', 'coil-return': 'the coil\'s return terminal',
  'starter-stud': 'the stud of the starter', 'starter-case': 'the bare case of the starter', chassis: 'bare metal of the frame',
};

/** Two or three short steps. */
export function sayHow(ask: CrankAsk): string[] {
  switch (ask.kind) {
    case 'volts': return [
      `Meter on DC volts; red probe on ${NAMES[ask.plus]}, black on ${NAMES[ask.minus]}.`,
      ask.startSwitch ? 'Hold START for two or three seconds, with a second person at the switch, and read while it is held.' : 'Start switch off, battery connected: read once it stands still.',
      'A minus sign counts: write it down.',
    ];
    case 'amps': return ['Zero the clamp meter on DC amps, then close it round the whole battery cable.', 'Hold START for two or three seconds and read once the first jump is over.'];
    case 'sound': return [ask.startSwitch ? 'Turn the switch to START and hold it for two seconds.' : 'Start switch off, battery connected.', 'Listen close to the relay: silence, one click, or a rattle of clicks.'];
    case 'crank': return [ask.startSwitch ? 'Turn the switch to START and hold it for two seconds.' : 'Start switch off, battery connected.', 'Watch the flywheel or its screen: still, slow, at its usual speed, or the starter whirs alone.'];
    case 'bridge-studs': return ['Start switch off. Touch both heavy studs of the relay at once with a heavy insulated jumper, for one second at most.', 'Watch the engine, and the spark.'];
    case 'turn-by-hand': return ['Battery negative off, spark lead off and grounded, drive and blades disengaged.', 'Turn the flywheel by a full turn, by its screen or a wrench on its nut: free, stiff, or not at all.', 'Stiff: take the spark plug out and turn it again.'];
    case 'battery-load': return ['Charge the battery and take off its surface charge first.', `Set the load tester to ${Number((ask.ratioOfCca * 100).toPrecision(3))} % of the CCA on the label, load it for ${ask.seconds} s, read the volts at the end and let go.`];
    default: throw new Error(`no such test: ${JSON.stringify(ask satisfies never)}`);
  }
}

export const CAUTION_OF_START = 'Before START is held: transmission in neutral, brake set, blades or pump disengaged, nobody near, spark lead off and grounded or fuel cut.';
export const CAUTION_OF_BRIDGING = 'Bridging the heavy studs bypasses every interlock and sparks: only where no meter reading tells the same, start switch off, away from the battery\'s gas. A voltage drop test finds the same fault without it.';

/** The cautions of this very act. */
export function cautionsOf(ask: CrankAsk): string[] {
  switch (ask.kind) {
    case 'volts': case 'sound': case 'crank':
      return ask.startSwitch ? [CAUTION_OF_START] : ask.kind === 'volts' ? [] : ['An engine that cranks with the switch off does so without warning: keep clear, and be ready to take the battery\'s negative off.'];
    case 'amps': return [CAUTION_OF_START];
    case 'bridge-studs': return [CAUTION_OF_BRIDGING, CAUTION_OF_START];
    case 'turn-by-hand': return ['Battery negative and spark lead off before a hand goes to the flywheel; keep fingers out of blades, belts and screens.'];
    case 'battery-load': return ['Never load a frozen, leaking or cracked battery; away from flames, in moving air.', cautionOfBattery()];
    default: throw new Error(`no such test: ${JSON.stringify(ask satisfies never)}`);
  }
}
