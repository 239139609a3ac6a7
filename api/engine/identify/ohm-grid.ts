/** Points in ohms with the weight each has in an integral over ln(ohms). */
export interface OhmGrid { readonly ohms: Float64Array; readonly weights: Float64Array }

const LEAST_OHM = 0.02;
const MOST_OHM = 20_000;
const COARSE_STEP = 0.3;
const FINE_STEPS = [-5, -4, -3, -2.5, -2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5];

/** The points that are always there. */
export function coarseOhms(): number[] {
  const points: number[] = [];
  for (let ln = Math.log(LEAST_OHM); ln < Math.log(MOST_OHM); ln += COARSE_STEP) points.push(Math.exp(ln));
  return points;
}

/**
 * Quadrature over ln(ohms): coarse where only the prior speaks, fine around each value the readings point at, and around the mean of
 * readings that agree, which together are sharper than each. Trapezoidal weights.
 */
export function gridAround(peaks: readonly { ohm: number; sigma: number }[]): OhmGrid {
  const points = coarseOhms();
  const add = (ohm: number, sigma: number): void => {
    for (const step of FINE_STEPS) {
      const point = ohm + step * sigma;
      if (point > LEAST_OHM) points.push(point);
    }
  };
  const sorted = peaks.toSorted((a, b) => a.ohm - b.ohm || a.sigma - b.sigma);
  let weight = 0;
  let sum = 0;
  let count = 0;
  const close = (): void => {
    if (count > 0) add(sum / weight, 1 / Math.sqrt(weight));
    [weight, sum, count] = [0, 0, 0];
  };
  let last: { ohm: number; sigma: number } | undefined;
  let drawn: { ohm: number; sigma: number } | undefined;
  for (const peak of sorted) {
    if (last && peak.ohm - last.ohm > 3 * Math.max(peak.sigma, last.sigma)) close();
    const known = 1 / peak.sigma ** 2;
    weight += known;
    sum += known * peak.ohm;
    count++;
    last = peak;
    // Readings that all but coincide need their points once.
    if (drawn && Math.abs(peak.ohm - drawn.ohm) < 0.25 * drawn.sigma && Math.abs(peak.sigma / drawn.sigma - 1) < 0.25) continue;
    add(peak.ohm, peak.sigma);
    drawn = peak;
  }
  close();
  points.sort((a, b) => a - b);
  const kept = points.filter((ohm, i) => i === 0 || ohm - points[i - 1]! > 1e-9 * ohm);
  const ohms = Float64Array.from(kept);
  const weights = new Float64Array(ohms.length);
  for (let i = 1; i < ohms.length; i++) {
    const half = Math.log(ohms[i]! / ohms[i - 1]!) / 2;
    weights[i - 1]! += half;
    weights[i]! += half;
  }
  return { ohms, weights };
}
