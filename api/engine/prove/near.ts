import { DRAWS } from './machine.ts';

/**
 * The normal distribution about a best fit: of independent standard normal quantities that readings bear on linearly, within borders that
 * are linear too (Laplace's method). `slopes` has one row a reading, `borderSlopes` one a border; a border is kept where it is at most 0.
 * There are fewer readings than quantities: everything is solved in the readings' space (Sherman, Morrison and Woodbury, from memory).
 */
export class Near {
  readonly z: Float64Array;
  readonly residuals: Float64Array;
  /** ln of the integral of prior x likelihood, without the readings' own factor 1 / (sigma root 2 pi) */
  readonly logVolume: number;
  readonly #middle: Float64Array;
  readonly #slopes: readonly Float64Array[];
  readonly #lower: readonly Float64Array[];
  readonly #borders: readonly { readonly slope: Float64Array; readonly at: number }[];

  constructor(z: Float64Array, residuals: Float64Array, slopes: readonly Float64Array[], borders: Float64Array, borderSlopes: readonly Float64Array[], leastKept: ArrayLike<number>) {
    this.z = z;
    this.residuals = residuals;
    this.#slopes = slopes;
    this.#lower = factor(slopes);
    const gradient = gradientOf(z, residuals, slopes);
    const back = this.#solve(gradient);
    this.#middle = z.map((value, i) => value - back[i]!);
    let log = -(dot(residuals, residuals) + dot(z, z)) / 2 + dot(gradient, back) / 2;
    for (let k = 0; k < slopes.length; k++) log -= Math.log(this.#lower[k]![k]!);
    const kept: { slope: Float64Array; at: number }[] = [];
    borders.forEach((border, k) => {
      if (border === Number.NEGATIVE_INFINITY) return;
      const slope = borderSlopes[k]!;
      const at = border - dot(slope, back);
      const spread = Math.sqrt(Math.max(1e-12, dot(slope, this.#solve(slope))));
      log += Math.log(Math.max(leastKept[k]!, shareBelow(-at / spread), 1e-30));
      kept.push({ slope, at });
    });
    this.#borders = kept;
    this.logVolume = log;
  }

  /**
   * A draw from standard normal numbers, one for each quantity and one (`noise`) for each reading: a draw of the prior corrected by what
   * its readings are off. Undefined where it lies beyond a border.
   */
  place(normals: Float64Array, noise: Float64Array): Float64Array | undefined {
    const off = Float64Array.from(this.#slopes, (slope, k) => dot(slope, normals) + noise[k]!);
    const back = solveFactored(this.#lower, off);
    const z = Float64Array.from({ length: DRAWS }, (_, i) => {
      let value = normals[i]!;
      for (let k = 0; k < back.length; k++) value -= this.#slopes[k]![i]! * back[k]!;
      return value;
    });
    if (this.#borders.some(({ slope, at }) => at + dot(slope, z) > 0)) return undefined;
    for (let i = 0; i < DRAWS; i++) z[i]! += this.#middle[i]!;
    return z;
  }

  #solve(right: Float64Array): Float64Array { return solveWith(this.#slopes, this.#lower, right); }
}

/** The step of Gauss and Newton: (I + J'J) step = -(J'r + z). */
export function stepTowards(slopes: readonly Float64Array[], residuals: Float64Array, z: Float64Array): Float64Array {
  const step = solveWith(slopes, factor(slopes), gradientOf(z, residuals, slopes));
  for (let i = 0; i < step.length; i++) step[i] = -step[i]!;
  return step;
}

export function squares(values: Float64Array): number { return dot(values, values); }

function gradientOf(z: Float64Array, residuals: Float64Array, slopes: readonly Float64Array[]): Float64Array {
  const gradient = Float64Array.from(z);
  for (let k = 0; k < slopes.length; k++) {
    const slope = slopes[k]!;
    const residual = residuals[k]!;
    for (let i = 0; i < gradient.length; i++) gradient[i]! += slope[i]! * residual;
  }
  return gradient;
}

/** x of (I + J'J) x = right, by the factor of I + JJ'. */
function solveWith(slopes: readonly Float64Array[], lower: readonly Float64Array[], right: Float64Array): Float64Array {
  const inner = solveFactored(lower, Float64Array.from(slopes, (slope) => dot(slope, right)));
  const x = Float64Array.from(right);
  for (let k = 0; k < slopes.length; k++) {
    const slope = slopes[k]!;
    const by = inner[k]!;
    for (let i = 0; i < x.length; i++) x[i]! -= slope[i]! * by;
  }
  return x;
}

/** Cholesky factor of I + JJ'. */
function factor(slopes: readonly Float64Array[]): Float64Array[] {
  const lower: Float64Array[] = [];
  for (let i = 0; i < slopes.length; i++) {
    const row = new Float64Array(i + 1);
    for (let j = 0; j <= i; j++) {
      let sum = dot(slopes[i]!, slopes[j]!) + (i === j ? 1 : 0);
      const other = j === i ? row : lower[j]!;
      for (let k = 0; k < j; k++) sum -= row[k]! * other[k]!;
      row[j] = i === j ? Math.sqrt(Math.max(sum, 1e-9)) : sum / other[j]!;
    }
    lower.push(row);
  }
  return lower;
}

/** Solves in place. */
function solveFactored(lower: readonly Float64Array[], x: Float64Array): Float64Array {
  for (let i = 0; i < x.length; i++) {
    const row = lower[i]!;
    for (let k = 0; k < i; k++) x[i]! -= row[k]! * x[k]!;
    x[i]! /= row[i]!;
  }
  for (let i = x.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < x.length; k++) x[i]! -= lower[k]![i]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  return x;
}

function dot(a: Float64Array, b: Float64Array): number {
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
