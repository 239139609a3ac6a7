import { PART_CLASSES, type Part, type PartClass } from '../../../catalog-schema/index.ts';
import type { Snapshot } from '../snapshot/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { gatherKin, pickEvenly, type CatalogueSample } from './catalogue-sample.ts';
import type { CoilMedian } from './coil-median.ts';
import { compareText } from './compare-text.ts';
import type { Kin } from './kin.ts';
import { withFacts, type SamplePart } from './sample-part.ts';

/** The same of a snapshot as `sampleCatalogue` of its parts; what was counted is kept, so make one for each snapshot. */
export function sampleSnapshot(snapshot: Snapshot): CatalogueSample {
  const samples = new Map<PartClass, readonly SamplePart[]>();
  const kins = new Map<PartClass, Kin | undefined>();
  let medians: readonly CoilMedian[] | undefined;
  const partsAt = (rows: readonly number[]): Part[] => rows.map((row) => snapshot.partAt(row));
  return {
    count: snapshot.count,
    get coilMedians() {
      return medians ??= takeMedians(snapshot);
    },
    sampleOf: (partClass) => {
      let sample = samples.get(partClass);
      if (!sample) samples.set(partClass, sample = withFacts(partsAt(pickRows(snapshot, partClass))));
      return sample;
    },
    kinOf: (partClass) => {
      if (!kins.has(partClass)) kins.set(partClass, gatherKin(partClass, () => partsAt(pickRows(snapshot, partClass, Number.POSITIVE_INFINITY)), snapshot.count));
      return kins.get(partClass);
    },
    findPart: (id) => {
      const row = snapshot.rowOf(id);
      return row === undefined ? undefined : snapshot.partAt(row);
    },
    findNumbered: (normalised) => partsAt(snapshot.rowsOfNumber(normalised))
      .filter(({ numbers = [], replaces = [] }) => [...numbers, ...replaces].some(({ number }) => normaliseNumber(number) === normalised))
      .toSorted((a, b) => compareText(a.id, b.id)),
  };
}

/** At most so many rows of a class, evenly spaced in order of id. One pass over the ranks of the class's profiles. */
function pickRows(snapshot: Snapshot, partClass: PartClass, most?: number): number[] {
  const runs = snapshot.profiles.filter((_, profile) => snapshot.exampleOf(profile).part.partClass === partClass);
  const count = runs.reduce((sum, { start, end }) => sum + end - start, 0);
  const wanted = pickEvenly(count, most);
  if (wanted.length === 0) return [];
  const ranks = new Uint32Array(count);
  let filled = 0;
  for (const { start, end } of runs) {
    ranks.set(snapshot.ranks.subarray(start, end), filled);
    filled += end - start;
  }
  ranks.sort();
  return wanted.map((at) => snapshot.rowsById[ranks[at]!]!);
}

function takeMedians(snapshot: Snapshot): CoilMedian[] {
  return PART_CLASSES.toSorted(compareText).flatMap((partClass) => {
    const coils = snapshot.coilsOf(partClass);
    if (coils.length === 0) return [];
    const volts = [...new Set(coils.map(({ nominalV }) => nominalV))].toSorted((a, b) => a - b);
    return [
      ...volts.map((nominalV): CoilMedian => {
        const alike = coils.filter((coil) => coil.nominalV === nominalV).map(({ ohm, count }) => ({ value: ohm, count }));
        return { partClass, nominalV, ...medianOf(alike) };
      }),
      { partClass, nominalV: null, ...medianOf(coils.map(({ nominalV, ohm, count }) => ({ value: ohm / nominalV ** 2, count }))) },
    ];
  });
}

/** The median of values that come so many times each; of an even number the mean of the middle two. */
function medianOf(values: readonly { readonly value: number; readonly count: number }[]): { median: number; count: number } {
  const sorted = values.toSorted((a, b) => a.value - b.value);
  const count = sorted.reduce((sum, each) => sum + each.count, 0);
  const valueAt = (place: number): number => {
    let passed = 0;
    return sorted.find((each) => (passed += each.count) > place)!.value;
  };
  const middle = count >> 1;
  return { median: count % 2 === 1 ? valueAt(middle) : (valueAt(middle - 1) + valueAt(middle)) / 2, count };
}
