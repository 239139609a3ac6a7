/** Points in ohms with the weight each has in an integral over ln(ohms). */
export interface OhmGrid { readonly ohms: Float64Array; readonly weights: Float64Array }

const LEAST_OHM = 0.02;
const MOST_OHM = 20_000;
const COARSE_STEP = 0.3;
const WIDE_STEPS = [-5, -4, -3, -2, -1, 1, 2, 3, 4, 5];
const FINE_STEPS = [-5, -4, -3, -2.5, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5];

/** The points that are always there. */
export function coarseOhms(): number[] {
  const points: number[] = [];
  for (let ln = Math.log(LEAST_OHM); ln < Math.log(MOST_OHM); ln += COARSE_STEP) points.push(Math.exp(ln));
  return points;
}

/** Where readings put a coil: a value and how sure it is, and the width of one reading. */
export interface OhmPeak { readonly ohm: number; readonly sigma: number; readonly widest: number }

/** Readings that agree, as their weighted mean, which is sharper than each; those that do not stay apart. */
export function gatherPeaks(readings: readonly { ohm: number; sigma: number }[]): OhmPeak[] {
  const sorted = readings.toSorted((a, b) => a.ohm - b.ohm || a.sigma - b.sigma);
  const peaks: OhmPeak[] = [];
  let weight = 0;
  let sum = 0;
  let widest = 0;
  sorted.forEach(({ ohm, sigma }, i) => {
    const known = 1 / sigma ** 2;
    weight += known;
    sum += known * ohm;
    widest = Math.max(widest, sigma);
    const next = sorted[i + 1];
    if (next && next.ohm - ohm <= 3 * Math.max(sigma, next.sigma)) return;
    peaks.push({ ohm: sum / weight, sigma: 1 / Math.sqrt(weight), widest });
    [weight, sum, widest] = [0, 0, 0];
  });
  return peaks;
}

/**
 * Quadrature over ln(ohms): coarse where only the prior speaks, fine around each value the readings point at. Trapezoidal weights.
 */
export function gridAround(peaks: readonly OhmPeak[]): OhmGrid {
  const points = coarseOhms();
  for (const { ohm, sigma, widest } of peaks) {
    for (const step of FINE_STEPS) points.push(ohm + step * sigma);
    if (widest > 1.5 * sigma) for (const step of WIDE_STEPS) points.push(ohm + step * widest);
  }
  const sorted = points.filter((ohm) => ohm >= LEAST_OHM).toSorted((a, b) => a - b);
  const ohms = Float64Array.from(sorted.filter((ohm, i) => i === 0 || ohm - sorted[i - 1]! > 1e-9 * ohm));
  const weights = new Float64Array(ohms.length);
  for (let i = 1; i < ohms.length; i++) {
    const half = Math.log(ohms[i]! / ohms[i - 1]!) / 2;
    weights[i - 1]! += half;
    weights[i]! += half;
  }
  return { ohms, weights };
}
