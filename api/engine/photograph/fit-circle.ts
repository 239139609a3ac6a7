import type { Spot } from './homography.ts';

/**
 * The circle nearest to the spots (least squares of the distance from the rim): an algebraic first guess, refined by Gauss and Newton.
 * @param spots three or more, in any unit
 * @returns undefined where they lie on one line or the refinement does not settle
 * Source: first guess after Kasa, 1976; geometric refinement as in Gander, Golub and Strebel, 1994 (from memory).
 */
export function fitCircle(spots: readonly Spot[]): { x: number; y: number; radius: number } | undefined {
  const n = spots.length;
  const mx = spots.reduce((sum, { x }) => sum + x, 0) / n;
  const my = spots.reduce((sum, { y }) => sum + y, 0) / n;
  const shifted = spots.map(({ x, y }) => ({ x: x - mx, y: y - my }));
  const size = Math.sqrt(shifted.reduce((sum, { x, y }) => sum + x * x + y * y, 0) / n);
  if (!(size > 0)) return undefined;
  // x^2 + y^2 = 2 a x + 2 b y + c
  const guess = solveThree(shifted.map(({ x, y }) => [2 * x / size, 2 * y / size, 1]), shifted.map(({ x, y }) => (x * x + y * y) / (size * size)));
  if (!guess) return undefined;
  let [a, b, r] = [guess[0], guess[1], Math.sqrt(guess[2] + guess[0] ** 2 + guess[1] ** 2)];
  for (let step = 0; step < 50; step++) {
    const distances = shifted.map(({ x, y }) => Math.hypot(x / size - a, y / size - b));
    if (distances.some((distance) => distance === 0)) return undefined;
    const rows = shifted.map(({ x, y }, k) => [(x / size - a) / distances[k]!, (y / size - b) / distances[k]!, 1] as const);
    const change = solveThree(rows, distances.map((distance) => distance - r));
    if (!change) return undefined;
    a += change[0];
    b += change[1];
    r += change[2];
    if (Math.hypot(...change) < 1e-12 * r) break;
    if (step === 49) return undefined;
  }
  return r > 0 && Number.isFinite(r) ? { x: mx + size * a, y: my + size * b, radius: size * r } : undefined;
}

/** Least squares in three unknowns by the normal equations; undefined where the rows do not decide them. */
function solveThree(rows: readonly (readonly number[])[], right: readonly number[]): [number, number, number] | undefined {
  const sum = (i: number, j: number) => rows.reduce((total, row) => total + row[i]! * row[j]!, 0);
  const [a, b, c, d, e, f] = [sum(0, 0), sum(0, 1), sum(0, 2), sum(1, 1), sum(1, 2), sum(2, 2)];
  const [p, q, s] = [0, 1, 2].map((i) => rows.reduce((total, row, k) => total + row[i]! * right[k]!, 0)) as [number, number, number];
  const [A, B, C] = [d * f - e * e, c * e - b * f, b * e - c * d];
  const determinant = a * A + b * B + c * C;
  if (!(Math.abs(determinant) > 1e-12 * a * d * f)) return undefined;
  const [D, E, F] = [a * f - c * c, b * c - a * e, a * d - b * b];
  return [(A * p + B * q + C * s) / determinant, (B * p + D * q + E * s) / determinant, (C * p + E * q + F * s) / determinant];
}
