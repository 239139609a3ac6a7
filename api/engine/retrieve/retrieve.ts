import { RING_GAP_MM } from '../../../catalog-schema/index.ts';
import { BestRows } from './best-rows.ts';
import type { Gates, ProfileGate } from './gates.ts';
import { createSlotJudge, type SlotJudge } from './judge-slot.ts';
import { UNPRICED, type Partition, type PriceIndex } from './price-index.ts';
import { SlotScan, type Wanted } from './slot-scan.ts';

/** What a part is scored by besides what it costs here. Amounts in minor units. */
export interface ScoreWeights {
  /** probability that a part in doubt works, from what it leaves unsaid and the gates it is in doubt at (a bit a gate of `columns`, then the sealing's); no more with one more of them */
  chanceOf(profile: ProfileGate, mask: number, doubtful: number): number;
  readonly misfitMinor: number;
  /** ring holes that come to the heavy studs, mm; each that goes on none of them costs a lug and its fitting */
  readonly rings: readonly number[];
  readonly lugMinor: number;
}

/** A part that was found, and what it comes to: sure before in doubt, priced before unpriced, then by total, then by id. */
export interface Found {
  readonly row: number;
  readonly doubt: boolean;
  readonly unpriced: boolean;
  readonly totalMinor: number;
}

/** Above every total of a part that has a price: added to that of one that has none. */
const BEHIND = 2 ** 44;

/**
 * The first `most` parts by gates and score alone, exactly and in order; no check is asked.
 * In each profile parts are met in order of what they cost here, and no score is below that: once that cost, with the least that a doubt
 * adds, is above the worst of the best so far, nothing that follows in the profile can be among them.
 */
export function retrieve(index: PriceIndex, gates: Gates, weights: ScoreWeights, most: number): Found[] {
  const found: Found[] = [];
  // A part in doubt, however cheap, comes after every part that is not.
  for (const wanted of ['sure', 'possible'] as const) {
    if (found.length < most) found.push(...findBest(index, gates, weights, wanted, most - found.length));
  }
  return found;
}

function findBest(index: PriceIndex, gates: Gates, weights: ScoreWeights, wanted: Wanted, most: number): Found[] {
  const { landed, partitions } = index;
  const judge = createSlotJudge(index, gates);
  const best = new BestRows(most);
  // The cheapest first: the sooner the best are cheap, the sooner the rest is done.
  const profiles = gates.profiles.filter((profile) => wanted === 'possible' || !profile.doubt)
    .sort((a, b) => landed[partitions[a.profile]!.start]! - landed[partitions[b.profile]!.start]!);
  for (const profile of profiles) {
    const partition = partitions[profile.profile]!;
    // No part of a profile costs less than its first.
    if (best.isBeyond(baseOf(landed[partition.start]!))) continue;
    if (wanted === 'sure') scoreSure(index, new SlotScan(index, partition, profile, gates, wanted), judge, weights, best);
    else scorePossible(index, partition, profile, gates, judge, weights, best);
  }
  return best.list().map(({ row, total }) => ({ row, doubt: wanted === 'possible', unpriced: total >= BEHIND, totalMinor: total >= BEHIND ? total - BEHIND : total }));
}

function baseOf(landed: number): number {
  return landed === UNPRICED ? BEHIND : landed;
}

function scoreSure(index: PriceIndex, scan: SlotScan, judge: SlotJudge, weights: ScoreWeights, best: BestRows): void {
  const { landed, rows, snapshot } = index;
  for (; scan.slot >= 0; scan.next()) {
    const { slot } = scan;
    const base = baseOf(landed[slot]!);
    if (best.isBeyond(base)) return;
    if (judge.judge(slot, scan.profile) !== 'sure') continue;
    const row = rows[slot]!;
    best.offer(base + countLugs(index, row, weights.rings) * weights.lugMinor, snapshot.ranks[row]!, row);
  }
}

function scorePossible(index: PriceIndex, partition: Partition, profile: ProfileGate, gates: Gates, judge: SlotJudge, weights: ScoreWeights, best: BestRows): void {
  const { landed, rows, masks, snapshot } = index;
  const misfits = new Map<number, number>();
  const misfitOf = (mask: number, doubtful: number): number => Math.floor((1 - weights.chanceOf(profile, mask, doubtful)) * weights.misfitMinor + 0.5);
  const misfitOfMask = (mask: number): number => {
    let misfit = misfits.get(mask);
    if (misfit === undefined) misfits.set(mask, misfit = misfitOf(mask, 0));
    return misfit;
  };
  const leastMisfit = profile.doubt ? misfitOfMask(0) : leastOfDoubts(gates, profile.doubtMask, misfitOf);
  if (best.isBeyond(baseOf(landed[partition.start]!) + leastMisfit)) return;
  let lastMask = -1;
  let lastMisfit = 0;
  for (const scan = new SlotScan(index, partition, profile, gates, 'possible'); scan.slot >= 0; scan.next()) {
    const { slot } = scan;
    const base = baseOf(landed[slot]!);
    if (best.isBeyond(base + leastMisfit)) return;
    const mask = masks[slot]! & profile.doubtMask;
    if (mask !== lastMask) {
      lastMask = mask;
      lastMisfit = misfitOfMask(mask);
    }
    const least = base + lastMisfit;
    if (best.isBeyond(least)) continue;
    const doubtful = (masks[slot]! & profile.outMask) === 0 ? judge.doubtful(slot) : -1;
    if (doubtful < 0 || (doubtful === 0 && mask === 0 && !profile.doubt)) continue;
    const row = rows[slot]!;
    const total = doubtful === 0 ? least : base + misfitOf(mask, doubtful);
    best.offer(total + countLugs(index, row, weights.rings) * weights.lugMinor, snapshot.ranks[row]!, row);
  }
}

/** What a part in doubt adds at least: it is in doubt for one thing, or for more, which is no likelier. */
function leastOfDoubts({ columns, sealing }: Gates, doubtMask: number, misfitOf: (mask: number, doubtful: number) => number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let left = doubtMask; left !== 0; left &= left - 1) least = Math.min(least, misfitOf(left & -left, 0));
  columns.forEach(({ low, high, sureLow, sureHigh }, gate) => {
    if (sureLow > low || sureHigh < high) least = Math.min(least, misfitOf(0, 1 << gate));
  });
  return sealing?.fates.includes('doubt') === true ? Math.min(least, misfitOf(0, 1 << columns.length)) : least;
}

/** Rings that go on neither the thickest nor the thinnest heavy stud; none where there is no such stud or one does not give its thread. */
function countLugs({ snapshot }: PriceIndex, row: number, rings: readonly number[]): number {
  if (rings.length === 0) return 0;
  const studs = ['studThickMm' as const, 'studThinMm' as const].map((name) => {
    const { codes, values } = snapshot.column(name);
    return codes[row] === 0 ? -1 : values[codes[row]! - 1]!;
  });
  if (studs.some((majorMm) => majorMm < 0)) return 0;
  return rings.reduce((sum, holeMm) => sum + (studs.some((majorMm) => majorMm >= holeMm - RING_GAP_MM.most && majorMm <= holeMm - RING_GAP_MM.least) ? 0 : 1), 0);
}
