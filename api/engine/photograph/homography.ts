/** A place in the plane, in whatever unit the caller says. */
export interface Spot { readonly x: number; readonly y: number }

/** A 3 x 3 matrix, row by row; a homography is one up to its scale. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number];

/**
 * The homography that takes each `from` to its `to`: direct linear transform, both sides first shifted to their centre and
 * scaled to a mean distance of the square root of 2. Four pairs are met exactly, more in the least-squares sense of the algebraic error.
 * @param from at least four spots, no three of the first four on a line
 * @returns undefined where the pairs do not decide a homography
 * Source: Hartley and Zisserman, Multiple View Geometry, 2nd edition, algorithm 4.2 (from memory).
 */
export function estimateHomography(from: readonly Spot[], to: readonly Spot[]): Matrix3 | undefined {
  if (from.length < 4 || from.length !== to.length) return undefined;
  const a = normaliseSpots(from);
  const b = normaliseSpots(to);
  if (!a || !b) return undefined;
  const gram = new Float64Array(81);
  for (let i = 0; i < from.length; i++) {
    const { x, y } = a.spots[i]!;
    const { x: u, y: v } = b.spots[i]!;
    addOuter(gram, [0, 0, 0, -x, -y, -1, v * x, v * y, v]);
    addOuter(gram, [x, y, 1, 0, 0, 0, -u * x, -u * y, -u]);
  }
  const { values, vectors } = decomposeSymmetric(gram, 9);
  const order = values.map((_, k) => k).toSorted((i, j) => values[i]! - values[j]!);
  // a second direction that costs nothing: three spots on a line, or two in one place
  if (values[order[1]!]! < 1e-10 * values[order[8]!]!) return undefined;
  const h = vectorOf(vectors, order[0]!);
  // three spots on a line that are not on a line in the other plane: the best matrix flattens the plane
  if (Math.abs(determinantOf(h)) < 1e-9) return undefined;
  const undo = invertMatrix(b.matrix);
  return undo && multiplyMatrices(undo, multiplyMatrices(h, a.matrix));
}

/** Where a homography takes a spot; undefined where that is at or beyond the horizon (the third coordinate is not of sign `side`). */
export function applyHomography(h: Matrix3, { x, y }: Spot, side = 0): Spot | undefined {
  const w = h[6] * x + h[7] * y + h[8];
  if (w === 0 || w * side < 0 || !Number.isFinite(w)) return undefined;
  return { x: (h[0] * x + h[1] * y + h[2]) / w, y: (h[3] * x + h[4] * y + h[5]) / w };
}

export function multiplyMatrices(a: Matrix3, b: Matrix3): Matrix3 {
  const at = (row: number, column: number) => a[3 * row]! * b[column]! + a[3 * row + 1]! * b[3 + column]! + a[3 * row + 2]! * b[6 + column]!;
  return [at(0, 0), at(0, 1), at(0, 2), at(1, 0), at(1, 1), at(1, 2), at(2, 0), at(2, 1), at(2, 2)];
}

/** The inverse, or undefined where there is none. */
export function invertMatrix(m: Matrix3): Matrix3 | undefined {
  const [a, b, c, d, e, f, g, h, i] = m;
  const p = e * i - f * h;
  const q = f * g - d * i;
  const r = d * h - e * g;
  const determinant = a * p + b * q + c * r;
  if (!Number.isFinite(1 / determinant)) return undefined;
  const s = 1 / determinant;
  return [p * s, (c * h - b * i) * s, (b * f - c * e) * s, q * s, (a * i - c * g) * s, (c * d - a * f) * s, r * s, (b * g - a * h) * s, (a * e - b * d) * s];
}

function determinantOf([a, b, c, d, e, f, g, h, i]: Matrix3): number {
  return a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g);
}

function normaliseSpots(spots: readonly Spot[]): { spots: Spot[]; matrix: Matrix3 } | undefined {
  const cx = spots.reduce((sum, { x }) => sum + x, 0) / spots.length;
  const cy = spots.reduce((sum, { y }) => sum + y, 0) / spots.length;
  const mean = spots.reduce((sum, { x, y }) => sum + Math.hypot(x - cx, y - cy), 0) / spots.length;
  if (!(mean > 0) || !Number.isFinite(mean)) return undefined;
  const s = Math.SQRT2 / mean;
  return { spots: spots.map(({ x, y }) => ({ x: s * (x - cx), y: s * (y - cy) })), matrix: [s, 0, -s * cx, 0, s, -s * cy, 0, 0, 1] };
}

function addOuter(gram: Float64Array, row: readonly number[]): void {
  for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) gram[9 * i + j]! += row[i]! * row[j]!;
}

function vectorOf(vectors: Float64Array, k: number): Matrix3 {
  const at = (row: number) => vectors[9 * row + k]!;
  return [at(0), at(1), at(2), at(3), at(4), at(5), at(6), at(7), at(8)];
}

/**
 * Eigenvalues and eigenvectors (in columns) of a symmetric matrix by Jacobi's rotations.
 * Source: Golub and Van Loan, Matrix Computations, section 8.5 (from memory).
 */
function decomposeSymmetric(matrix: Float64Array, size: number): { values: number[]; vectors: Float64Array } {
  const a = Float64Array.from(matrix);
  const vectors = new Float64Array(size * size);
  for (let k = 0; k < size; k++) vectors[k * size + k] = 1;
  for (let sweep = 0; sweep < 30; sweep++) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) { all += a[i * size + j]! ** 2; if (i !== j) off += a[i * size + j]! ** 2; }
    if (off <= 1e-30 * all) break;
    for (let p = 0; p < size; p++) for (let q = p + 1; q < size; q++) rotatePair(a, vectors, size, p, q);
  }
  return { values: Array.from({ length: size }, (_, k) => a[k * size + k]!), vectors };
}

function rotatePair(a: Float64Array, vectors: Float64Array, size: number, p: number, q: number): void {
  const pq = a[p * size + q]!;
  if (pq === 0) return;
  const theta = (a[q * size + q]! - a[p * size + p]!) / (2 * pq);
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  for (let k = 0; k < size; k++) turn(a, k * size + p, k * size + q, c, s);
  for (let k = 0; k < size; k++) turn(a, p * size + k, q * size + k, c, s);
  for (let k = 0; k < size; k++) turn(vectors, k * size + p, k * size + q, c, s);
}

function turn(a: Float64Array, i: number, j: number, c: number, s: number): void {
  const x = a[i]!;
  const y = a[j]!;
  a[i] = c * x - s * y;
  a[j] = s * x + c * y;
}
