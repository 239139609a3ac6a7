import type { BenchRecord, Measured, TraceMeasurement, TraceOutcome } from '../../../catalog-schema/index.ts';
import { isVolts } from './read-outcomes.ts';
import type { Place } from './predictions.ts';

// The words of a trace's answer.

const PLACE_WORDS: Readonly<Record<Place, string>> = {
  battery: 'the battery', starter: 'the starter', 'start-switch': 'the start switch', chassis: 'the chassis',
  'interlocked-return': 'the chassis through the interlocks', 'cranking-feed': 'what must be live while cranking', tap: 'a take-off from the battery stud',
};

const OUTCOME_WORDS: Readonly<Record<TraceOutcome, string>> = {
  live: 'the battery\'s volts', part: 'some volts', dead: 'nothing', joined: 'nearly no ohms', through: 'ohms of something between', open: 'open',
};

export function sayPlaces(places: readonly Place[]): string { return sayList(places.map((place) => PLACE_WORDS[place]), 'or'); }

/** The reading to take, of a wire whose end hangs free. */
export function sayMeasurement(tag: string, measure: TraceMeasurement, { system }: BenchRecord): string {
  const end = `the free end of wire ${tag}`;
  const names = (system.interlockList ?? []).map(({ name }) => name);
  const all = names.length > 0 ? `every interlock made (${names.join(', ')})` : 'every interlock made';
  switch (measure) {
    case 'voltsOff': return `volts from ${end} to the chassis, key out`;
    case 'voltsRun': return `volts from ${end} to the chassis, key at run, engine standing`;
    case 'voltsStart': return `volts from ${end} to the chassis while somebody holds START, ${all}`;
    case 'ohmChassisMade': return `ohms from ${end} to the chassis, ${all}`;
    case 'ohmChassisOpen': return `ohms from ${end} to the chassis, the interlocks opened one after the other${names.length > 0 ? ` (${names.join(', ')})` : ''}: the highest reading`;
    case 'ohmStarterCable': return `ohms from ${end} to the lug of the starter's cable, taken off the starter's own stud`;
    case 'ohmBatteryPlus': return `ohms from ${end} to the plus clamp, taken off the battery`;
  }
}

/** What each way a reading can come out would leave. */
export function saySeparation(separates: readonly { readonly outcome: TraceOutcome; readonly leaves: readonly Place[] }[]): string {
  return separates.map(({ outcome, leaves }) => `${OUTCOME_WORDS[outcome]}: ${sayPlaces(leaves)}`).join('; ');
}

/** How to take it without harm, in the order of the work. */
export function cautionsOf(measure: TraceMeasurement): string[] {
  const still = 'Take the starter\'s cable off the starter\'s own stud, battery off, and cover its lug: nothing cranks then, whatever closes. Gears in neutral, wheels chocked, drives and blades disengaged, hands clear.';
  const live = 'The wire\'s end may be live without a fuse before it: hold it in an insulated clip, cap every other bare end, touch no metal with it. Eye protection, no jewellery.';
  const off = 'Key out, both clamps off the battery, minus first: an ohmmeter on a live wire reads nonsense and can be spoilt.';
  switch (measure) {
    case 'voltsOff': return [live, 'Key out.'];
    case 'voltsRun': return [still, live, 'The fuse of the start circuit in its place. Key back to off as soon as it is read: an ignition coil left on over closed points burns.'];
    case 'voltsStart': return [still, live, 'The fuse of the start circuit in its place, of the value it is marked with. Hold START for as long as the reading takes and no longer.'];
    case 'ohmChassisMade': return [off];
    case 'ohmChassisOpen': return [off, 'An interlock opened by hand can move a blade or a brake: engine standing, spark lead off and grounded.'];
    case 'ohmStarterCable': return [off, 'Cover the cable\'s lug before the battery comes on again.'];
    case 'ohmBatteryPlus': return [off];
  }
}

/** A take-off is known only by what it is not. */
export function cautionOfTap(tag: string): string {
  return `Wire ${tag} is left as a take-off because it leads nowhere else. A wire broken inside, one whose fuse is blown, and a start-switch wire read with an interlock open read the same: follow it to the fuse or the regulator it feeds before it goes on the battery stud.`;
}

/** 'volts, key out, read 12.4, the battery\'s volts' */
export function sayReading(measure: TraceMeasurement, reading: Measured | 'open', outcomes: readonly TraceOutcome[]): string {
  const shown = reading === 'open' ? 'open' : `${typeof reading === 'number' ? reading : `${reading.value} ± ${reading.plusMinus}`} ${isVolts(measure) ? 'V' : 'Ohm'}`;
  const means = sayList(outcomes.map((outcome) => OUTCOME_WORDS[outcome]), 'or');
  return `${SHORT[measure]} ${shown}${reading === 'open' || means === '' ? '' : ` (${means})`}`;
}

const SHORT: Readonly<Record<TraceMeasurement, string>> = {
  voltsOff: 'with the key out', voltsRun: 'with the key at run', voltsStart: 'in START', ohmChassisMade: 'to the chassis with the interlocks made',
  ohmChassisOpen: 'to the chassis with the interlocks open', ohmStarterCable: 'to the starter\'s cable', ohmBatteryPlus: 'to the plus clamp',
};

export function sayList(parts: readonly string[], word: 'and' | 'or'): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} ${word} ${parts.at(-1)!}`;
}
