import { normalTail } from '../normal-tail.ts';

/** Weights from their logarithms, scaled to sum to 1; all zero when no weight is left. */
export function normaliseLogs(logs: readonly number[]): number[] {
  const top = logs.reduce((most, log) => Math.max(most, log), Number.NEGATIVE_INFINITY);
  return top === Number.NEGATIVE_INFINITY ? logs.map(() => 0) : normalise(logs.map((log) => Math.exp(log - top)));
}

/** The same weights, scaled to sum to 1; all zero when they are. */
export function normalise(weights: readonly number[]): number[] {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return weights.map((weight) => (sum > 0 ? weight / sum : 0));
}

/** Entropy in bits of weights that sum to 1. */
export function bitsOf(shares: Iterable<number>): number {
  let bits = 0;
  for (const share of shares) if (share > 0) bits -= share * Math.log2(share);
  return bits;
}

const MICRO = 1e6;
/** beyond this a number has no six decimals left */
const LARGE = 1e10;

/**
 * Shares rounded to six digits that still sum to 1 (largest remainders; of equal ones the first). For output only: the computation
 * carries all digits.
 */
export function roundShares(shares: readonly number[]): number[] {
  const down = shares.map((share) => Math.floor(share * MICRO + 1e-7));
  let left = shares.length === 0 ? 0 : Math.round(shares.reduce((sum, share) => sum + share, 0) * MICRO) - down.reduce((sum, share) => sum + share, 0);
  const order = shares.map((share, index) => ({ index, rest: share * MICRO - down[index]! })).toSorted((a, b) => b.rest - a.rest || a.index - b.index);
  for (const { index } of order) {
    if (left <= 0) break;
    down[index]!++;
    left--;
  }
  return down.map((micro) => micro / MICRO);
}

/** At most six decimals; what is beyond all numbers (the watts of an absurd voltage) is the greatest there is, since JSON has no infinity. */
export function roundMicro(value: number): number {
  return Math.abs(value) > LARGE ? Math.min(Math.max(value, -Number.MAX_VALUE), Number.MAX_VALUE) : Math.round(value * MICRO) / MICRO;
}

/** Density of the normal distribution. */
export function normalDensity(value: number, mean: number, sigma: number): number {
  const z = (value - mean) / sigma;
  return Math.exp(-0.5 * z * z) / (sigma * 2.5066282746310002);
}

/** Density of Student's t distribution with three degrees of freedom: 2 / (pi sqrt(3) (1 + z^2 / 3)^2), z in spreads from the mean. */
export function heavyDensity(value: number, mean: number, spread: number): number {
  const z = (value - mean) / spread;
  const fall = 1 + z * z / 3;
  return 0.36755259694786135 / (spread * fall * fall);
}

/** Density of a value drawn evenly from low to high and read with a normal error. */
export function zoneDensity(value: number, low: number, high: number, sigma: number): number {
  if (high - low < sigma * 1e-3) return normalDensity(value, (low + high) / 2, sigma);
  const below = (value - high) / sigma;
  const above = (value - low) / sigma;
  if (below > 9 || above < -9) return 0;
  // Far out on one side both tails are near 1 and their difference is lost: take the tails of the other side.
  const share = below > 0 ? normalTail(below) - normalTail(above) : normalTail(-above) - normalTail(-below);
  return Math.max(0, share) / (high - low);
}

/** Five points and weights that stand for a standard normal variable (Gauss-Hermite, Abramowitz and Stegun table 25.10). */
export const NORMAL_POINTS: readonly (readonly [number, number])[] = [
  [-2.856970, 0.011257411], [-1.355626, 0.222075922], [0, 0.533333333], [1.355626, 0.222075922], [2.856970, 0.011257411],
];
