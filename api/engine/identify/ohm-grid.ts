/** Points in ohms, their logarithms, and the weight each has in an integral over ln(ohms). */
export interface OhmGrid { readonly ohms: Float64Array; readonly lns: Float64Array; readonly weights: Float64Array }

const LEAST_OHM = 0.02;
const MOST_OHM = 20_000;
const COARSE_STEP = 0.3;
const WIDE_STEPS = [-5, -4, -3, -2, -1, 1, 2, 3, 4, 5];
const FINE_STEPS = [-5, -4, -3, -2.5, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5];

const COARSE: readonly number[] = Array.from({ length: Math.ceil(Math.log(MOST_OHM / LEAST_OHM) / COARSE_STEP) }, (_, i) => LEAST_OHM * Math.exp(i * COARSE_STEP));
/** The points that are always there: enough where only the prior speaks. */
const COARSE_GRID = weighPoints(Float64Array.from(COARSE));

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

/** Quadrature over ln(ohms): coarse where only the prior speaks, fine around each value the readings point at. */
export function gridAround(peaks: readonly OhmPeak[]): OhmGrid {
  if (peaks.length === 0) return COARSE_GRID;
  const sorted = Float64Array.from([...COARSE, ...pointsAround(peaks)]).sort();
  let kept = 0;
  for (const ohm of sorted) if (kept === 0 || isApart(sorted[kept - 1]!, ohm)) sorted[kept++] = ohm;
  return weighPoints(sorted.slice(0, kept));
}

/** The finer points about some peaks, in no order. */
export function pointsAround(peaks: readonly OhmPeak[]): number[] {
  const points: number[] = [];
  for (const { ohm, sigma, widest } of peaks) {
    for (const step of FINE_STEPS) if (ohm + step * sigma >= LEAST_OHM) points.push(ohm + step * sigma);
    if (widest > 1.5 * sigma) for (const step of WIDE_STEPS) if (ohm + step * widest >= LEAST_OHM) points.push(ohm + step * widest);
  }
  return points;
}

/** Whether a point is worth having beside the one below it. */
export function isApart(below: number, ohm: number): boolean {
  return ohm - below > 1e-9 * ohm;
}

/** Weights of the trapezoidal rule. */
function weighPoints(ohms: Float64Array): OhmGrid {
  const lns = ohms.map(Math.log);
  const weights = new Float64Array(ohms.length);
  for (let i = 1; i < ohms.length; i++) {
    const half = (lns[i]! - lns[i - 1]!) / 2;
    weights[i - 1]! += half;
    weights[i]! += half;
  }
  return { ohms, lns, weights };
}
