import { DRAWS } from './machine.ts';

/**
 * The normal distribution about a best fit: of independent standard normal quantities that readings bear on linearly, within borders that
 * are linear too (Laplace's method). `slopes` and `borderSlopes` have one row a quantity; a border is kept where it is at most 0.
 */
export class Near {
  readonly z: Float64Array;
  readonly residuals: Float64Array;
  /** ln of the integral of prior x likelihood, without the readings' own factor 1 / (sigma root 2 pi) */
  readonly logVolume: number;
  readonly #middle: Float64Array;
  readonly #lower: readonly Float64Array[];
  readonly #borders: readonly { readonly slope: Float64Array; readonly at: number }[];

  constructor(z: Float64Array, residuals: Float64Array, slopes: readonly Float64Array[], borders: Float64Array, borderSlopes: readonly Float64Array[], leastKept: ArrayLike<number>) {
    this.z = z;
    this.residuals = residuals;
    this.#lower = factor(slopes);
    const gradient = Float64Array.from(z, (value, i) => value + dot(slopes[i]!, residuals));
    const back = this.#solve(gradient);
    this.#middle = Float64Array.from(z, (value, i) => value - back[i]!);
    let log = -(dot(residuals, residuals) + dot(z, z)) / 2 + dot(gradient, back) / 2;
    for (let i = 0; i < DRAWS; i++) log -= Math.log(this.#lower[i]![i]!);
    const kept: { slope: Float64Array; at: number }[] = [];
    borders.forEach((border, k) => {
      if (border === Number.NEGATIVE_INFINITY) return;
      const slope = Float64Array.from({ length: DRAWS }, (_, i) => borderSlopes[i]![k]!);
      const at = border - dot(slope, back);
      const spread = Math.sqrt(Math.max(1e-12, dot(slope, this.#solve(slope))));
      log += Math.log(Math.max(leastKept[k]!, shareBelow(-at / spread), 1e-30));
      kept.push({ slope, at });
    });
    this.#borders = kept;
    this.logVolume = log;
  }

  /** A draw from standard normal numbers; undefined where it lies beyond a border. */
  place(normals: Float64Array): Float64Array | undefined {
    const off = new Float64Array(DRAWS);
    for (let i = DRAWS - 1; i >= 0; i--) {
      let sum = normals[i]!;
      for (let k = i + 1; k < DRAWS; k++) sum -= this.#lower[k]![i]! * off[k]!;
      off[i] = sum / this.#lower[i]![i]!;
    }
    if (this.#borders.some(({ slope, at }) => at + dot(slope, off) > 0)) return undefined;
    return off.map((value, i) => value + this.#middle[i]!);
  }

  #solve(right: Float64Array): Float64Array { return solveFactored(this.#lower, right); }
}

/** The step of Gauss and Newton: (I + J J') step = -(J r + z). */
export function stepTowards(slopes: readonly Float64Array[], residuals: Float64Array, z: Float64Array): Float64Array {
  const gradient = Float64Array.from(z, (value, i) => -(value + dot(slopes[i]!, residuals)));
  return solveFactored(factor(slopes), gradient);
}

export function squares(values: ArrayLike<number>): number { return dot(values, values); }

/** Cholesky factor of I + J J', J's rows given. */
function factor(slopes: readonly Float64Array[]): Float64Array[] {
  const lower = slopes.map((row, i) => Float64Array.from({ length: i + 1 }, (_, j) => dot(row, slopes[j]!) + (i === j ? 1 : 0)));
  for (let i = 0; i < lower.length; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = lower[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      lower[i]![j] = i === j ? Math.sqrt(Math.max(sum, 1e-9)) : sum / lower[j]![j]!;
    }
  }
  return lower;
}

function solveFactored(lower: readonly Float64Array[], right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let i = 0; i < x.length; i++) {
    for (let k = 0; k < i; k++) x[i]! -= lower[i]![k]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  for (let i = x.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < x.length; k++) x[i]! -= lower[k]![i]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  return x;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Share of the standard normal distribution below x (Abramowitz and Stegun 26.2.17, from memory; within 1e-7). */
function shareBelow(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail = Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI) * t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return x > 0 ? 1 - tail : tail;
}
