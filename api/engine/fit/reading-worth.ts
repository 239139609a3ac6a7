/** What a part is expected to cost before a reading, and what it costs once the reading has said whether it holds. */
export interface ReadPart {
  /** that it holds what the reading settles */
  readonly chance: number;
  readonly now: number;
  readonly ifHolds: number;
  readonly ifNot: number;
  /** it holds exactly where the first of two answers does not */
  readonly isOther?: boolean;
  /** parts alike in this hold together, others apart from them; absent: all hang on one measured number */
  readonly like?: string | undefined;
}

/**
 * Expected saving of a reading: the least expected cost now, less the mean, over what the reading may say, of the least cost then.
 * A part that does not hold may still be chosen, at the full cost of its misfit: so a saving is never negative.
 * @param apart the least expected cost among the parts that the reading does not touch, infinite where there is none
 */
export function findSaving(apart: number, parts: readonly ReadPart[]): number {
  const now = parts.reduce((least, part) => Math.min(least, part.now), apart);
  const then = parts.some(({ like }) => like !== undefined) ? meanOfLeastApart(apart, parts) : meanOfLeastTogether(apart, parts);
  return Math.max(0, now - then);
}

/** Bits that one yes or no tells. */
export function entropyOf(chance: number): number {
  return [chance, 1 - chance].reduce((sum, share) => (share > 0 ? sum - share * Math.log2(share) : sum), 0);
}

/**
 * One thing of the machine is measured, so all parts hang on one uniform number u: a part holds where u < its chance, or, where it needs
 * the other answer, where u >= 1 - its chance. The least cost is constant between those points, so the mean is exact.
 */
function meanOfLeastTogether(apart: number, parts: readonly ReadPart[]): number {
  const steps = parts.map(({ chance, ifHolds, ifNot, isOther }) => (isOther ? { at: 1 - chance, below: ifNot, above: ifHolds } : { at: chance, below: ifHolds, above: ifNot }))
    .toSorted((a, b) => a.at - b.at);
  const leastBelow: number[] = Array.from({ length: steps.length + 1 }, () => Number.POSITIVE_INFINITY);
  for (let index = steps.length - 1; index >= 0; index--) leastBelow[index] = Math.min(leastBelow[index + 1]!, steps[index]!.below);
  let mean = 0;
  let from = 0;
  let leastAbove = Number.POSITIVE_INFINITY;
  for (let index = 0; index <= steps.length; index++) {
    const to = index < steps.length ? Math.min(1, Math.max(from, steps[index]!.at)) : 1;
    if (to > from) mean += (to - from) * Math.min(apart, leastAbove, leastBelow[index]!);
    from = to;
    if (index < steps.length) leastAbove = Math.min(leastAbove, steps[index]!.above);
  }
  return mean;
}

/**
 * The reading tells kinds of part apart (where a wire leads: kinds of inner circuit), and says of each kind by itself whether it holds. The
 * mean of the least of independent costs, each of which is one of two: the sum over the costs of the chance that none is less.
 */
function meanOfLeastApart(apart: number, parts: readonly ReadPart[]): number {
  const kinds = new Map<string, { chance: number; ifHolds: number; ifNot: number }>();
  parts.forEach(({ chance, ifHolds, ifNot, like }, index) => {
    const key = like ?? `part ${index}`;
    const there = kinds.get(key);
    kinds.set(key, there ? { chance: there.chance, ifHolds: Math.min(there.ifHolds, ifHolds), ifNot: Math.min(there.ifNot, ifNot) } : { chance, ifHolds, ifNot });
  });
  const cheapest = [...kinds.values()].toSorted((a, b) => a.ifHolds - b.ifHolds);
  // Whatever the reading says, nothing costs more than this.
  const most = cheapest.reduce((least, { ifNot }) => Math.min(least, ifNot), apart);
  let mean = 0;
  let open = 1;
  for (const { chance, ifHolds } of cheapest) {
    if (ifHolds >= most) break;
    mean += open * chance * ifHolds;
    open *= 1 - chance;
  }
  return mean + open * most;
}
