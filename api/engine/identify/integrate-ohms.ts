import { likeForward, likeOhms, type BenchReading } from './bench-readings.ts';
import { lnOhmsOf, type Winding } from './coil-prior.ts';
import { ohmOfShape, type FormVariant, type Shape, type ShownOhms } from './form-variants.ts';
import type { CoilClass } from './forms.ts';
import { gatherPeaks, gridAround, isApart, pointsAround, type OhmGrid, type OhmPeak } from './ohm-grid.ts';
import { heavyDensity } from './posterior.ts';

/** A reading that depends on unknown ohms, and how. */
export interface OhmReadingOf { readonly reading: BenchReading; readonly shown: ShownOhms }

/** of the greatest weight: less than this does not count */
const NEGLIGIBLE = 1e-10;
const HOPELESS = -Math.log(NEGLIGIBLE) + 6;

/** What the readings say of the unknown coils of a variant, for one class. */
export interface OhmsFound {
  /** ln of the likelihood, unknown ohms integrated out */
  readonly log: number;
  /** Ohm at the bench of each coil, by the mean of the logarithm, and the spread of that */
  readonly coils: readonly { readonly ohm: number; readonly spread: number }[];
}

type Volts = readonly { readonly volts: number; readonly share: number }[];

/**
 * Integrates the coils' unknown ohms out of the likelihood of the readings that depend on them, for each class.
 * @param warm what a coil's ohms at the bench are times those at 20 C
 */
export function integrateOhms(variant: FormVariant, readings: readonly OhmReadingOf[], classes: readonly CoilClass[], volts: Volts, warm: number): OhmsFound[] {
  const [first, second] = variant.coils;
  const lnWarm = Math.log(warm);
  if (!second) {
    const { like, top, grid } = likeAlong(gridAround(directPeaks(readings, 'first')), readings, 'first');
    return classes.map((coilClass) => {
      const weights = weighVolts(grid.lns, coilClass, first!.watts, volts, lnWarm);
      for (let i = 0; i < weights.length; i++) weights[i]! *= like[i]!;
      return { log: Math.log(sumOf(weights)) + top, coils: [describeOhms(grid.lns, weights)] };
    });
  }
  const pairs = pairOhms(readings);
  return classes.map((coilClass) => integratePairs(pairs, coilClass, [first!.watts, second.watts], volts, lnWarm));
}

/** Points this near in ln(ohms) to the weightiest are one answer, once they hold this share of all. */
const NEAR = 0.5;
const MOSTLY = 0.9;

/** Ohms and spread of their logarithm; what little weight lies far from the rest (should the reading be a slip) moves neither. */
function describeOhms(lns: Float64Array, weights: Float64Array): OhmsFound['coils'][number] {
  let top = 0;
  for (let i = 1; i < weights.length; i++) if (weights[i]! > weights[top]!) top = i;
  const [all, near] = [momentsOf(lns, weights, lns[top]!, Number.POSITIVE_INFINITY), momentsOf(lns, weights, lns[top]!, NEAR)];
  const { mean, spread } = near.weight >= MOSTLY * all.weight ? near : all;
  return { ohm: Math.exp(mean), spread };
}

function momentsOf(lns: Float64Array, weights: Float64Array, middle: number, reach: number): { weight: number; mean: number; spread: number } {
  let [weight, sum, square] = [0, 0, 0];
  for (let i = 0; i < lns.length; i++) {
    const off = lns[i]! - middle;
    if (off > reach || off < -reach) continue;
    weight += weights[i]!;
    sum += weights[i]! * off;
    square += weights[i]! * off * off;
  }
  return { weight, mean: middle + sum / weight, spread: Math.sqrt(Math.max(0, square / weight - (sum / weight) ** 2)) };
}

function sumOf(weights: Float64Array): number {
  let sum = 0;
  for (const weight of weights) sum += weight;
  return sum;
}

/** Prior density at each point over every nominal voltage. */
function weighVolts(lns: Float64Array, coilClass: CoilClass, watts: Winding, volts: Volts, lnWarm: number): Float64Array {
  const sums = new Float64Array(lns.length);
  for (const each of volts) {
    const { mean, spread } = lnOhmsOf(coilClass, watts, each.volts);
    for (let i = 0; i < sums.length; i++) sums[i]! += each.share * heavyDensity(lns[i]! - lnWarm, mean, spread);
  }
  return sums;
}

/** The likelihood of the readings of one coil alone along its grid, times the grid's weights, scaled by its greatest. */
function likeAlong(grid: OhmGrid, readings: readonly OhmReadingOf[], shape: 'first' | 'second'): { like: Float64Array; top: number; grid: OhmGrid } {
  const own = readings.filter(({ shown }) => shown.shape === shape);
  const like = new Float64Array(grid.ohms.length);
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < like.length; i++) {
    like[i] = sumLogs(own, grid.ohms[i]!, grid.ohms[i]!);
    top = Math.max(top, like[i]!);
  }
  let most = 0;
  for (let i = 0; i < like.length; i++) {
    like[i] = Math.exp(like[i]! - top) * grid.weights[i]!;
    most = Math.max(most, like[i]!);
  }
  for (let i = 0; i < like.length; i++) if (like[i]! <= NEGLIGIBLE * most) like[i] = 0;
  return { like, top, grid };
}

/** a product of so many likelihoods stays far within what a number can hold */
const MULTIPLIED = 16;

function sumLogs(readings: readonly OhmReadingOf[], first: number, second: number): number {
  let log = 0;
  let product = 1;
  for (let i = 0; i < readings.length; i++) {
    product *= likeOf(readings[i]!, first, second);
    if (i % MULTIPLIED !== MULTIPLIED - 1) continue;
    log += Math.log(product);
    product = 1;
  }
  return product === 1 ? log : log + Math.log(product);
}

/**
 * Points of the plane of two coils that the readings leave any weight, in rows of one ohms of the first coil: logarithms of the ohms, and
 * likelihood times weight of the quadrature; row `i` ends before `ends[i]`.
 */
interface OhmPairs { readonly firsts: Float64Array; readonly ends: Int32Array; readonly seconds: Float64Array; readonly weights: Float64Array; readonly top: number }

/**
 * Each ohms of the first coil has a grid of its own for the second, fine where a reading of both leaves it: so a sum that was read costs
 * a narrow band and not the whole plane.
 */
function pairOhms(readings: readonly OhmReadingOf[]): OhmPairs {
  const [direct, other, sums] = [directPeaks(readings, 'first'), directPeaks(readings, 'second'), directPeaks(readings, 'series')];
  const both = readings.filter(({ shown }) => shown.shape === 'series' || shown.shape === 'parallel');
  const ofSecond = readings.filter(({ shown }) => shown.shape === 'second');
  const rows = likeAlong(gridAround([...direct, ...sums.flatMap((sum) => other.map((each) => lessPeak(sum, each)))]), readings, 'first');
  const { ohms, lns } = gridAround(other);
  const logs = Float64Array.from(ohms, (ohm) => sumLogs(ofSecond, ohm, ohm));
  const [firsts, ends, seconds, weights]: [number[], number[], number[], number[]] = [[], [], [], []];
  // What the readings of both can give at most tells which points are not worth their sum.
  const most = both.reduce((sum, { reading }) => sum + reading.logMost, 0);
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < rows.like.length; i++) {
    if (rows.like[i] === 0) continue;
    const first = rows.grid.ohms[i]!;
    const scale = Math.log(rows.like[i]!);
    const finer = pointsAround(sums.map((sum) => lessPeak(sum, { ohm: first, sigma: 0, widest: 0 }))).sort((a, b) => a - b);
    const start = seconds.length;
    // Both lists of points in one order.
    for (let j = 0, next = 0, below = 0; j < ohms.length || next < finer.length;) {
      const isFiner = j === ohms.length || (next < finer.length && finer[next]! < ohms[j]!);
      const ohm = isFiner ? finer[next]! : ohms[j]!;
      if (isApart(below, ohm)) {
        seconds.push(isFiner ? Math.log(ohm) : lns[j]!);
        const alone = scale + (isFiner ? sumLogs(ofSecond, ohm, ohm) : logs[j]!);
        const log = alone + most < top - HOPELESS ? Number.NEGATIVE_INFINITY : alone + sumLogs(both, first, ohm);
        weights.push(log);
        top = Math.max(top, log);
        below = ohm;
      }
      if (isFiner) next++;
      else j++;
    }
    // The trapezoidal rule gives each point half of what lies to either side.
    for (let k = start; k < seconds.length; k++) {
      const width = (seconds[Math.min(k + 1, seconds.length - 1)]! - seconds[Math.max(k - 1, start)]!) / 2;
      weights[k]! += Math.log(width);
    }
    firsts.push(rows.grid.lns[i]!);
    ends.push(seconds.length);
  }
  return {
    firsts: Float64Array.from(firsts), ends: Int32Array.from(ends), seconds: Float64Array.from(seconds), top: top + rows.top,
    weights: Float64Array.from(weights, (log) => Math.exp(log - top)),
  };
}

/** Two windings share the part's nominal voltage. */
function integratePairs({ firsts, ends, seconds, weights, top }: OhmPairs, coilClass: CoilClass, [one, two]: readonly [Winding, Winding], volts: Volts, lnWarm: number): OhmsFound {
  const priors = volts.map(({ volts: nominal, share }) => ({ share, one: lnOhmsOf(coilClass, one, nominal), two: lnOhmsOf(coilClass, two, nominal) }));
  const onFirst = new Float64Array(priors.length);
  const onRow = new Float64Array(firsts.length);
  const onPair = new Float64Array(seconds.length);
  for (let i = 0, k = 0; i < firsts.length; i++) {
    priors.forEach((prior, v) => { onFirst[v] = prior.share * heavyDensity(firsts[i]! - lnWarm, prior.one.mean, prior.one.spread); });
    for (; k < ends[i]!; k++) {
      if (weights[k]! < NEGLIGIBLE) continue;
      let prior = 0;
      for (let v = 0; v < priors.length; v++) prior += onFirst[v]! * heavyDensity(seconds[k]! - lnWarm, priors[v]!.two.mean, priors[v]!.two.spread);
      onPair[k] = weights[k]! * prior;
      onRow[i]! += onPair[k]!;
    }
  }
  return { log: Math.log(sumOf(onRow)) + top, coils: [describeOhms(firsts, onRow), describeOhms(seconds, onPair)] };
}

/** Likelihood of one reading where the coils have these ohms. */
export function likeOf({ reading, shown }: OhmReadingOf, first: number, second: number): number {
  const ohm = ohmOfShape(shown.shape, shown.factor, first, second);
  switch (shown.kind) {
    case 'ohms': return likeOhms(reading, ohm);
    case 'forward': return likeForward(reading, ohm);
    case 'either': return (likeOhms(reading, ohm) + likeForward(reading, ohm)) / 2;
    default: throw new TypeError(`no likelihood for ${shown.kind satisfies never}`);
  }
}

/** Where readings of a shape put its ohms. */
function directPeaks(readings: readonly OhmReadingOf[], shape: Shape): OhmPeak[] {
  return gatherPeaks(readings.filter(({ reading, shown }) => shown.shape === shape && shown.kind !== 'forward' && !reading.open && reading.value > 0)
    .map(({ reading, shown }) => ({ ohm: reading.value / shown.factor, sigma: reading.sigma / shown.factor })));
}

/** What the sum of two coils leaves for one when the other is known. */
function lessPeak(sum: OhmPeak, other: OhmPeak): OhmPeak {
  return { ohm: sum.ohm - other.ohm, sigma: Math.hypot(sum.sigma, other.sigma), widest: Math.hypot(sum.widest, other.widest) };
}
