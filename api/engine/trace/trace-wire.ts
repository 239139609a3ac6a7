import { TRACE_MEASUREMENTS, type BenchRecord, type TraceAnswer, type TraceMeasurement, type TraceNext, type TraceOutcome, type Wire } from '../../../catalog-schema/index.ts';
import { describeInstrument, describeSetting, settingOf } from '../settings.ts';
import { PLACES, PREDICTIONS, type Place } from './predictions.ts';
import { isVolts, readOutcomes } from './read-outcomes.ts';
import { cautionOfTap, cautionsOf, sayList, sayMeasurement, sayPlaces, sayReading, saySeparation } from './trace-words.ts';

type TracedWire = TraceAnswer['wires'][number];

/** One reading of a wire and the places it leaves. */
interface Taken { readonly measure: TraceMeasurement; readonly leaves: ReadonlySet<Place>; readonly said: string; readonly impossible: boolean }

/** What the wires of one answer share. */
export interface TraceNotes { readonly assumptions: Set<string> }

/** Readings below this many bits tell nothing but rounding. */
const LEAST_BITS = 1e-9;

/** Where one wire can lead by its readings, and what to read next. `index` is its place in the record, for paths. */
export function traceWire(record: BenchRecord, wire: Wire, index: number, notes: TraceNotes): TracedWire {
  const places = placesOf(record);
  const taken = readTaken(record, wire, notes);
  const remaining = places.filter((place) => taken.every(({ leaves }) => leaves.has(place)));
  const conflicts = [...findConflicts(taken, places, index), ...compareWritten(wire, remaining, taken, index)];
  const only = remaining.length === 1 ? remaining[0]! : null;
  return {
    tag: wire.tag, remaining, leadsTo: only, conflicts, cautions: only === 'tap' && taken.length > 0 ? [cautionOfTap(wire.tag)] : [],
    measureNext: remaining.length < 2 ? [] : TRACE_MEASUREMENTS.filter((measure) => wire.traced?.readings?.[measure] === undefined)
      .flatMap((measure) => weighNext(record, wire, measure, remaining)).toSorted((a, b) => b.net - a.net).map(({ net: _net, ...next }) => next),
  };
}

/** A machine whose interlocks do not act in the return has no wire there. */
function placesOf({ system: { interlocks } }: BenchRecord): readonly Place[] {
  return interlocks === 'none' || interlocks === 'in-feed' ? PLACES.filter((place) => place !== 'interlocked-return') : PLACES;
}

function readTaken(record: BenchRecord, wire: Wire, notes: TraceNotes): Taken[] {
  const { nominalV } = record.system;
  const readings = wire.traced?.readings ?? {};
  return TRACE_MEASUREMENTS.flatMap((measure) => {
    const reading = readings[measure];
    if (reading === undefined) return [];
    const { outcomes, defaulted } = readOutcomes(measure, reading, nominalV);
    noteLimits(measure, defaulted, notes);
    return [{
      measure, impossible: outcomes.length === 0, said: sayReading(measure, reading, outcomes),
      leaves: new Set(PLACES.filter((place) => PREDICTIONS[place][measure].some((outcome) => outcomes.includes(outcome)))),
    }];
  });
}

function noteLimits(measure: TraceMeasurement, defaulted: boolean, { assumptions }: TraceNotes): void {
  const used = isVolts(measure) ? (['traceDeadOfNominal', 'traceLiveOfNominal'] as const) : (['traceJoinedOhm', 'openFromOhm'] as const);
  for (const name of used) assumptions.add(describeSetting(name));
  if (defaulted) assumptions.add(describeInstrument(isVolts(measure) ? 'voltmeter' : 'ohmmeter'));
}

/** The least sets of readings that no wire gives together: one that no machine gives, then pairs, then threes. */
function findConflicts(taken: readonly Taken[], places: readonly Place[], index: number): TracedWire['conflicts'] {
  const found: (readonly Taken[])[] = [];
  const sets = [...taken.map((one) => [one]), ...pairsOf(taken), ...triplesOf(taken)];
  for (const set of sets) {
    if (found.some((smaller) => smaller.every((one) => set.includes(one)))) continue;
    if (!places.some((place) => set.every(({ leaves }) => leaves.has(place)))) found.push(set);
  }
  return found.map((set) => ({
    paths: set.map(({ measure }) => `wires[${index}].traced.readings.${measure}`),
    why: set.length === 1 ? `${set[0]!.said}: ${set[0]!.impossible ? 'more than a machine of this voltage gives' : 'no wire of this machine reads so'}. Take it again`
      : `${sayList(set.map(({ said }) => said), 'and')}: no one wire reads so. Take ${set.length === 2 ? 'both' : 'them'} again, with only this wire off its terminal and every interlock as said`,
  }));
}

/** What somebody wrote against what the readings say. */
function compareWritten(wire: Wire, remaining: readonly Place[], taken: readonly Taken[], index: number): TracedWire['conflicts'] {
  const written = wire.leadsTo;
  if (written === undefined || written === 'unknown' || taken.length === 0 || remaining.length === 0 || remaining.includes(written)) return [];
  const against = taken.filter(({ leaves }) => !leaves.has(written));
  return [{
    paths: [`wires[${index}].leadsTo`, ...against.map(({ measure }) => `wires[${index}].traced.readings.${measure}`)],
    why: `written down as leading to ${sayPlaces([written])}, but ${sayList(against.map(({ said }) => said), 'and')}: it leads to ${sayPlaces(remaining)}`,
  }];
}

/** What a reading not taken yet would tell: bits about the place, all places and all outcomes of one alike likely; less its bother for the order. */
function weighNext(record: BenchRecord, wire: Wire, measure: TraceMeasurement, remaining: readonly Place[]): (TraceNext & { net: number })[] {
  const separates = new Map<TraceOutcome, { place: Place; share: number }[]>();
  for (const place of remaining) {
    const outcomes = PREDICTIONS[place][measure];
    for (const outcome of outcomes) separates.set(outcome, [...(separates.get(outcome) ?? []), { place, share: 1 / outcomes.length / remaining.length }]);
  }
  let worth = Math.log2(remaining.length);
  for (const left of separates.values()) {
    const all = left.reduce((sum, { share }) => sum + share, 0);
    for (const { share } of left) worth += share * Math.log2(share / all);
  }
  if (worth < LEAST_BITS) return [];
  const shown = [...separates].map(([outcome, left]) => ({ outcome, leaves: left.map(({ place }) => place) }));
  return [{
    measure, what: sayMeasurement(wire.tag, measure, record), why: saySeparation(shown), worth: Math.round(worth * 1e6) / 1e6,
    separates: shown, cautions: cautionsOf(measure), net: Math.round((worth - botherOf(measure)) * 1e6) / 1e6,
  }];
}

function botherOf(measure: TraceMeasurement): number {
  switch (measure) {
    case 'ohmChassisMade': case 'ohmChassisOpen': return settingOf('botherOfMeter');
    case 'ohmBatteryPlus': case 'ohmStarterCable': return settingOf('botherOfTraceCable');
    case 'voltsOff': return settingOf('botherOfTraceLive');
    case 'voltsRun': case 'voltsStart': return settingOf('botherOfTraceKey');
  }
}

function pairsOf<T>(entries: readonly T[]): T[][] { return entries.flatMap((a, i) => entries.slice(i + 1).map((b) => [a, b])); }
function triplesOf<T>(entries: readonly T[]): T[][] { return entries.flatMap((a, i) => pairsOf(entries.slice(i + 1)).map((pair) => [a, ...pair])); }
