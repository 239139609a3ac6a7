import { bitsOf, normalise, NORMAL_POINTS } from './posterior.ts';

/** How one kind of measurement comes out on one candidate. */
export interface Reading<Candidate> {
  /** a few true values and how often each occurs */
  readonly truths: (candidate: Candidate) => readonly { value: number; share: number }[];
  readonly sigma: number;
  readonly density: (candidate: Candidate, value: number) => number;
}

/** Candidates rarer than this do not change what a measurement is expected to tell. */
const LEAST_SHARE = 0.002;

/**
 * The drop in entropy, in bits, that a measurement is expected to bring: for each candidate, the values it would show, and what each
 * would leave open.
 */
export function expectBits<Candidate>(candidates: readonly { of: Candidate; share: number }[], reading: Reading<Candidate>): number {
  const likely = candidates.filter(({ share }) => share >= LEAST_SHARE);
  if (likely.length < 2) return 0;
  const shares = normalise(likely.map(({ share }) => share));
  const after = new Float64Array(likely.length);
  let left = 0;
  likely.forEach(({ of }, index) => {
    for (const truth of reading.truths(of)) {
      for (const [z, weight] of NORMAL_POINTS) {
        const value = truth.value + z * reading.sigma;
        let sum = 0;
        for (let i = 0; i < after.length; i++) {
          after[i] = shares[i]! * reading.density(likely[i]!.of, value);
          sum += after[i]!;
        }
        let bits = 0;
        for (const part of after) if (part > 0) bits -= (part / sum) * Math.log2(part / sum);
        left += shares[index]! * truth.share * weight * bits;
      }
    }
  });
  return Math.max(0, bitsOf(shares) - left);
}
