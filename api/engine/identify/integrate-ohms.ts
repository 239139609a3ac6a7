import { logForward, logOhms, type BenchReading } from './bench-readings.ts';
import { lnOhmDensity } from './coil-prior.ts';
import { ohmOfShape, type FormVariant, type ShownOhms } from './form-variants.ts';
import type { CoilClass } from './forms.ts';
import { coarseOhms, gatherPeaks, gridAround, type OhmGrid, type OhmPeak } from './ohm-grid.ts';

/** A reading that depends on unknown ohms, and how. */
export interface OhmReadingOf { readonly reading: BenchReading; readonly shown: ShownOhms }

/** of the greatest weight: less than this does not count */
const NEGLIGIBLE = 1e-10;

/** What the readings say of the unknown coils of a variant, for one class. */
export interface OhmsFound {
  /** ln of the likelihood, unknown ohms integrated out */
  readonly log: number;
  /** Ohm at the bench, posterior mean of each coil and the spread of its logarithm */
  readonly coils: readonly { readonly ohm: number; readonly spread: number }[];
}

/**
 * Integrates the coils' unknown ohms out of the likelihood of the readings that depend on them, for each class.
 * @param warm what a coil's ohms at the bench are times those at 20 C
 */
export function integrateOhms(
  variant: FormVariant, readings: readonly OhmReadingOf[], classes: readonly CoilClass[], volts: readonly { volts: number; share: number }[], warm: number,
): OhmsFound[] {
  const grids = variant.coils.map((_, coil) => gridAround(peaksOf(readings, coil)));
  const along = grids.map((grid, coil) => logsAlong(grid, readings.filter(({ shown }) => shown.shape === (coil === 0 ? 'first' : 'second')), coil));
  const [first = { ohms: new Float64Array(0), weights: new Float64Array(0) }, second] = grids;
  const tops = along.map((logs) => logs.reduce((most, log) => Math.max(most, log), Number.NEGATIVE_INFINITY));
  const like = along.map((logs, coil) => logs.map((log, i) => Math.exp(log - tops[coil]!) * grids[coil]!.weights[i]!));
  const both = second ? readings.filter(({ shown }) => isBoth(shown)) : [];
  const { likeBoth, topBoth } = both.length > 0 ? likeAcross(first, second!, like, both) : { likeBoth: undefined, topBoth: 0 };
  const lns = grids.map(({ ohms }) => ohms.map((ohm) => Math.log(ohm)));
  const lnWarm = Math.log(warm);

  return classes.map((coilClass) => {
    let total = 0;
    const sums = grids.map(() => ({ weight: 0, ln: 0, square: 0 }));
    // Two windings share the part's nominal voltage; of one, the voltages may be summed beforehand.
    const rounds = second ? volts.map((each) => [each]) : [volts];
    for (const round of rounds) {
      const shares = grids.map((_, coil) => {
        const { watts } = variant.coils[coil]!;
        return like[coil]!.map((weight, i) => (weight === 0 ? 0 : weight * round.reduce(
          (sum, { volts: nominal, share }) => sum + share * lnOhmDensity(coilClass, watts, lns[coil]![i]! - lnWarm, Math.log(nominal)), 0)));
      });
      const [onFirst = new Float64Array(0), onSecond] = shares;
      const margins = onSecond ? [new Float64Array(onFirst.length), new Float64Array(onSecond.length)] : [onFirst];
      if (onSecond) weighBoth(margins, onFirst, onSecond, likeBoth);
      // The share stands in both factors where there are two.
      const scale = onSecond ? 1 / round[0]!.share : 1;
      total += scale * margins[0]!.reduce((sum, weight) => sum + weight, 0);
      margins.forEach((margin, coil) => {
        const sum = sums[coil]!;
        margin.forEach((weight, i) => {
          const ln = lns[coil]![i]!;
          sum.weight += scale * weight;
          sum.ln += scale * weight * ln;
          sum.square += scale * weight * ln * ln;
        });
      });
    }
    return {
      log: Math.log(total) + tops.reduce((sum, top) => sum + top, 0) + topBoth,
      coils: sums.map(({ weight, ln, square }) => {
        const mean = ln / weight;
        return { ohm: Math.exp(mean), spread: Math.sqrt(Math.max(0, square / weight - mean * mean)) };
      }),
    };
  });
}

function isBoth({ shape }: { shape: string }): boolean {
  return shape === 'series' || shape === 'parallel';
}

/** Fills the weight of each point of one coil with the other coil summed out. */
function weighBoth(margins: readonly Float64Array[], onFirst: Float64Array, onSecond: Float64Array, likeBoth: Float64Array | undefined): void {
  const [first, second] = margins as [Float64Array, Float64Array];
  first.fill(0);
  second.fill(0);
  onFirst.forEach((a, i) => {
    if (a === 0) return;
    onSecond.forEach((b, j) => {
      const weight = likeBoth ? a * b * likeBoth[i * onSecond.length + j]! : a * b;
      first[i]! += weight;
      second[j]! += weight;
    });
  });
}

function logsAlong(grid: OhmGrid, readings: readonly OhmReadingOf[], coil: number): Float64Array {
  return grid.ohms.map((ohm) => readings.reduce((log, each) => log + logOf(each, coil === 0 ? ohm : 0, coil === 0 ? 0 : ohm), 0));
}

/** The likelihood of readings of both coils at each pair of points that either coil alone leaves any weight, scaled by its greatest. */
function likeAcross(first: OhmGrid, second: OhmGrid, like: readonly Float64Array[], readings: readonly OhmReadingOf[]): { likeBoth: Float64Array; topBoth: number } {
  const logs = new Float64Array(first.ohms.length * second.ohms.length).fill(Number.NEGATIVE_INFINITY);
  const [least = 0, leastOther = 0] = like.map((each) => NEGLIGIBLE * each.reduce((most, weight) => Math.max(most, weight), 0));
  let topBoth = Number.NEGATIVE_INFINITY;
  first.ohms.forEach((a, i) => {
    if (like[0]![i]! <= least) return;
    second.ohms.forEach((b, j) => {
      if (like[1]![j]! <= leastOther) return;
      let log = 0;
      for (const each of readings) log += logOf(each, a, b);
      logs[i * second.ohms.length + j] = log;
      topBoth = Math.max(topBoth, log);
    });
  });
  return { likeBoth: logs.map((log) => Math.exp(log - topBoth)), topBoth };
}

/** Log-likelihood of one reading where the coils have these ohms. */
export function logOf({ reading, shown }: OhmReadingOf, first: number, second: number): number {
  const ohm = ohmOfShape(shown.shape, shown.factor, first, second);
  switch (shown.kind) {
    case 'ohms': return logOhms(reading, ohm);
    case 'forward': return logForward(reading, ohm);
    case 'either': return Math.log((Math.exp(logOhms(reading, ohm)) + Math.exp(logForward(reading, ohm))) / 2);
    default: throw new TypeError(`no likelihood for ${shown.kind satisfies never}`);
  }
}

/** Where readings would put the coil: directly, or by what a reading of both leaves when the other is known. */
function peaksOf(readings: readonly OhmReadingOf[], coil: number): OhmPeak[] {
  const read = readings.filter(({ reading, shown }) => shown.kind !== 'forward' && !reading.open && reading.value > 0);
  const direct = (shape: string) => gatherPeaks(read.filter(({ shown }) => shown.shape === shape)
    .map(({ reading, shown }) => ({ ohm: reading.value / shown.factor, sigma: reading.sigma / shown.factor })));
  const mine = direct(coil === 0 ? 'first' : 'second');
  const others = direct(coil === 0 ? 'second' : 'first');
  // Only the sum was read: the second coil is what each coarse value of the first leaves of it.
  const left = others.length > 0 || mine.length > 0 ? others : coil === 0 ? [] : coarseOhms().map((ohm) => ({ ohm, sigma: 0, widest: 0 }));
  const derived = direct('series').flatMap((sum) => left.map((other) => ({
    ohm: sum.ohm - other.ohm, sigma: Math.hypot(sum.sigma, other.sigma), widest: Math.hypot(sum.widest, other.widest),
  })));
  return [...mine, ...derived.filter(({ ohm }) => ohm > 0)];
}
