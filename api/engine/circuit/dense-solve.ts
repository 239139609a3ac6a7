/**
 * Solve A x = b for a symmetric positive definite A, in place, by A = L D L'. No pivoting: a grounded conductance matrix is
 * diagonally dominant, and elimination keeps it so.
 * @param a row-major, `size` rows of `stride`; only the lower triangle is read; overwritten
 * @param b overwritten with x
 * @returns false where a pivot is not above zero: the caller's network was not grounded
 * Source: Golub and Van Loan, Matrix Computations, section 4.1 (from memory).
 */
export function solveDense(a: Float64Array, b: Float64Array, size: number, stride: number): boolean {
  for (let k = 0; k < size; k++) {
    const pivot = a[k * stride + k]!;
    if (!(pivot > 0)) return false;
    const bk = b[k]!;
    for (let i = k + 1; i < size; i++) {
      const below = a[i * stride + k]!;
      if (below === 0) continue;
      const factor = below / pivot;
      for (let j = k + 1; j <= i; j++) a[i * stride + j]! -= factor * a[j * stride + k]!;
      b[i]! -= factor * bk;
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    let sum = b[k]!;
    for (let i = k + 1; i < size; i++) sum -= a[i * stride + k]! * b[i]!;
    b[k] = sum / a[k * stride + k]!;
  }
  return true;
}
