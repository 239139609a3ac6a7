import { normalTail } from '../normal-tail.ts';
import { logGamma } from './gamma-function.ts';

/** How demand over some stretch of time is distributed, in units. */
export interface DemandLaw {
  readonly mean: number;
  /** whether demand comes in whole units: levels then are whole numbers */
  readonly whole: boolean;
  /** probability that demand is at most so much */
  atMost(units: number): number;
  /** expected demand beyond so much */
  beyond(units: number): number;
}

/** Tables end where less than this is left. */
const TAIL = 1e-12;
/** No table is longer. */
const MOST_UNITS = 20_000;

/** Demand in whole units by its probabilities from nought up; they sum to 1. */
export class TableLaw implements DemandLaw {
  readonly whole = true;
  readonly mean: number;
  readonly #cumulative: readonly number[];
  readonly #beyond: readonly number[];

  constructor(probabilities: readonly number[]) {
    const total = probabilities.reduce((sum, each) => sum + each, 0);
    let below = 0;
    this.#cumulative = probabilities.map((each) => (below += each / total));
    this.mean = probabilities.reduce((sum, each, units) => sum + units * each / total, 0);
    let beyond = this.mean;
    this.#beyond = this.#cumulative.map((atMost) => {
      const here = beyond;
      beyond = Math.max(0, beyond - (1 - atMost));
      return here;
    });
  }

  atMost(units: number): number {
    return units < 0 ? 0 : this.#cumulative[Math.floor(units)] ?? 1;
  }

  beyond(units: number): number {
    if (units < 0) return this.mean - units;
    const low = Math.floor(units);
    const [here = 0, next = 0] = [this.#beyond[low], this.#beyond[low + 1]];
    return here + (next - here) * (units - low);
  }
}

/** Probabilities of 0, 1, 2, ... of a Poisson distribution. */
export function listPoisson(mean: number): number[] {
  return listByRatio(mean, Math.sqrt(mean), -mean, (units) => mean / units, (units) => -mean + units * Math.log(mean) - logGamma(units + 1));
}

/**
 * Probabilities of 0, 1, 2, ... of a negative binomial distribution by its mean and its index of dispersion, variance over mean, above 1:
 * shape mean / (dispersion - 1).
 */
export function listNegativeBinomial(mean: number, dispersion: number): number[] {
  const shape = mean / (dispersion - 1);
  const share = 1 - 1 / dispersion;
  const logNone = -shape * Math.log(dispersion);
  return listByRatio(mean, Math.sqrt(mean * dispersion), logNone, (units) => share * (shape + units - 1) / units,
    (units) => logGamma(shape + units) - logGamma(shape) - logGamma(units + 1) + logNone + units * Math.log(share));
}

/** By the ratio of neighbours; from the logarithm where the first is too small to start from. */
function listByRatio(mean: number, sd: number, logNone: number, ratio: (units: number) => number, logOf: (units: number) => number): number[] {
  if (mean === 0) return [1];
  const list: number[] = [];
  let left = 1;
  for (let units = 0; units < MOST_UNITS && (left > TAIL || units < mean + 8 * sd) ; units++) {
    const before = list[units - 1];
    const here = units === 0 ? Math.exp(logNone) : before !== undefined && before > 1e-250 ? before * ratio(units) : Math.exp(logOf(units));
    list.push(here);
    left -= here;
    if (units > mean + 60 * sd + 60) break;
  }
  return list;
}

/** Demand so large that single units do not show. */
export class NormalLaw implements DemandLaw {
  readonly whole = false;
  readonly mean: number;
  readonly sd: number;

  constructor(mean: number, sd: number) {
    this.mean = mean;
    this.sd = sd;
  }

  atMost(units: number): number { return 1 - normalTail((units - this.mean) / this.sd); }

  beyond(units: number): number { return this.sd * lossOf((units - this.mean) / this.sd); }
}

/** Expected excess of a standard normal variable over z: phi(z) - z (1 - Phi(z)). */
export function lossOf(z: number): number {
  return Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI) - z * normalTail(z);
}
