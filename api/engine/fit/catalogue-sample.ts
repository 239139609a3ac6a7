import type { Catalogue, Part, PartClass } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { factsOf, type PartFacts } from '../part-facts.ts';
import { settingOf } from '../settings.ts';
import { collectCoilMedians, type CoilMedian } from './coil-median.ts';
import { compareText } from './compare-text.ts';

/**
 * All that the comparison of one part may ask of the whole catalogue. An array of parts and a snapshot answer alike, whatever the order
 * in which the parts stand.
 */
export interface SamplePart { readonly part: Part; readonly facts: PartFacts }

export interface CatalogueSample {
  /** parts in the catalogue */
  readonly count: number;
  readonly coilMedians: readonly CoilMedian[];
  /** at most `frequencySample` parts of the class, evenly spaced in order of id (`pickEvenly`) */
  sampleOf(partClass: PartClass): readonly SamplePart[];
  findPart(id: string): Part | undefined;
  /** parts that carry a number, or are claimed to replace it, by what `normaliseNumber` leaves of it; in order of id */
  findNumbered(normalised: string): readonly Part[];
}

/** The ranks, in order of id, of the parts that stand for `count` of them. */
export function pickEvenly(count: number): number[] {
  const size = Math.min(count, settingOf('frequencySample'));
  return Array.from({ length: size }, (_, index) => Math.floor((index * count) / size));
}

/** A sample is asked about for every record: its facts are found once. */
export function withFacts(parts: readonly Part[]): SamplePart[] {
  return parts.map((part) => ({ part, facts: factsOf(part) }));
}

/** Nothing is counted before it is asked for. */
export function sampleCatalogue(catalogue: Catalogue): CatalogueSample {
  const samples = new Map<PartClass, readonly SamplePart[]>();
  let medians: readonly CoilMedian[] | undefined;
  let byId: Map<string, Part> | undefined;
  return {
    count: catalogue.length,
    get coilMedians() {
      return medians ??= collectCoilMedians(catalogue);
    },
    sampleOf: (partClass) => {
      let sample = samples.get(partClass);
      if (!sample) {
        const alike = catalogue.filter((part) => part.partClass === partClass).toSorted((a, b) => compareText(a.id, b.id));
        samples.set(partClass, sample = withFacts(pickEvenly(alike.length).map((rank) => alike[rank]!)));
      }
      return sample;
    },
    findPart: (id) => (byId ??= new Map(catalogue.map((part) => [part.id, part]))).get(id),
    findNumbered: (normalised) => catalogue
      .filter(({ numbers = [], replaces = [] }) => [...numbers, ...replaces].some(({ number }) => normaliseNumber(number) === normalised))
      .toSorted((a, b) => compareText(a.id, b.id)),
  };
}
