import { bitsOf, NORMAL_POINTS } from './posterior.ts';

/** How one kind of measurement comes out on one candidate. */
export interface Reading<Candidate> {
  /** a few true values and how often each occurs */
  readonly truths: (candidate: Candidate) => readonly { value: number; share: number }[];
  readonly sigma: number;
  readonly density: (candidate: Candidate, value: number) => number;
}

/** One value that a measurement may show: on which candidate and how often, and how densely which candidates show it (and log2 of that). */
interface Showing { readonly of: number; readonly share: number; readonly by: Int32Array; readonly densities: Float64Array; readonly logs: Float64Array }

/** What a measurement may show, whatever is known beforehand. */
export type Showings = readonly Showing[];

/** Candidates rarer than this do not change what a measurement is expected to tell. */
const LEAST_SHARE = 0.002;
/** per mm: the values of any candidate are a million times as dense */
const LEAST_DENSE = 1e-7;

/** Every value that a measurement may show on some candidate; worked out once, since it does not depend on what is known. */
export function foreseeShowings<Candidate>(candidates: readonly Candidate[], { truths, sigma, density }: Reading<Candidate>): Showings {
  return candidates.flatMap((candidate, of) => truths(candidate).flatMap((truth) => NORMAL_POINTS.map(([z, weight]): Showing => {
    const value = truth.value + z * sigma;
    const shown = candidates.flatMap((other, by) => {
      const dense = density(other, value);
      return dense > LEAST_DENSE ? [{ by, dense }] : [];
    });
    const densities = Float64Array.from(shown, ({ dense }) => dense);
    return { of, share: truth.share * weight, by: Int32Array.from(shown, ({ by }) => by), densities, logs: densities.map(Math.log2) };
  })));
}

/**
 * The drop in entropy, in bits, that a measurement is expected to bring: for each value it would show, what that would leave open.
 * @param shares of the candidates, in the order they were foreseen in
 */
export function expectBits(shares: readonly number[], showings: Showings): number {
  const total = shares.reduce((sum, share) => sum + (share >= LEAST_SHARE ? share : 0), 0);
  const likely = Float64Array.from(shares, (share) => (share >= LEAST_SHARE ? share / total : 0));
  const likelyLogs = likely.map(Math.log2);
  let left = 0;
  for (const { of, share, by, densities, logs } of showings) {
    if (likely[of] === 0) continue;
    let sum = 0;
    let weighed = 0;
    for (let i = 0; i < by.length; i++) {
      const candidate = by[i]!;
      if (likely[candidate] === 0) continue;
      const part = likely[candidate]! * densities[i]!;
      sum += part;
      weighed += part * (likelyLogs[candidate]! + logs[i]!);
    }
    left += likely[of]! * share * (Math.log2(sum) - weighed / sum);
  }
  return Math.max(0, bitsOf(likely) - left);
}
