import type { Catalogue, Part, PartClass } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import { settingOf } from '../settings.ts';
import { collectCoilMedians, type CoilMedian } from './coil-median.ts';
import { compareText } from './compare-text.ts';
import { Kin } from './kin.ts';
import { withFacts, type SamplePart } from './sample-part.ts';

/**
 * All that the comparison of one part may ask of the whole catalogue. An array of parts and a snapshot answer alike, whatever the order
 * in which the parts stand.
 */
export interface CatalogueSample {
  /** parts in the catalogue */
  readonly count: number;
  readonly coilMedians: readonly CoilMedian[];
  /** at most `frequencySample` parts of the class, evenly spaced in order of id (`pickEvenly`) */
  sampleOf(partClass: PartClass): readonly SamplePart[];
  /** all parts of a class, told apart into families; undefined where the catalogue has more than `removedAmong` */
  kinOf(partClass: PartClass): Kin | undefined;
  findPart(id: string): Part | undefined;
  /** parts that carry a number, or are claimed to replace it, by what `normaliseNumber` leaves of it; in order of id */
  findNumbered(normalised: string): readonly Part[];
}

/** The ranks, in order of id, of the parts that stand for `count` of them. */
export function pickEvenly(count: number, most: number = settingOf('frequencySample')): number[] {
  const size = Math.min(count, most);
  return Array.from({ length: size }, (_, index) => Math.floor((index * count) / size));
}

/** The kin of a class: none where the parts of the catalogue are too many to be weighed one by one. */
export function gatherKin(partClass: PartClass, listClass: () => readonly Part[], ofCatalogue: number): Kin | undefined {
  return ofCatalogue > settingOf('removedAmong') ? undefined : new Kin(partClass, () => withFacts(listClass()));
}

/** Nothing is counted before it is asked for. */
export function sampleCatalogue(catalogue: Catalogue): CatalogueSample {
  const samples = new Map<PartClass, readonly SamplePart[]>();
  const kins = new Map<PartClass, Kin | undefined>();
  const listClass = (partClass: PartClass): Part[] => catalogue.filter((part) => part.partClass === partClass).toSorted((a, b) => compareText(a.id, b.id));
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
        const alike = listClass(partClass);
        samples.set(partClass, sample = withFacts(pickEvenly(alike.length).map((rank) => alike[rank]!)));
      }
      return sample;
    },
    kinOf: (partClass) => {
      if (!kins.has(partClass)) kins.set(partClass, gatherKin(partClass, () => listClass(partClass), catalogue.length));
      return kins.get(partClass);
    },
    findPart: (id) => (byId ??= new Map(catalogue.map((part) => [part.id, part]))).get(id),
    findNumbered: (normalised) => catalogue
      .filter(({ numbers = [], replaces = [] }) => [...numbers, ...replaces].some(({ number }) => normaliseNumber(number) === normalised))
      .toSorted((a, b) => compareText(a.id, b.id)),
  };
}
