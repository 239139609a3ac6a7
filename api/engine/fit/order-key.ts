import type { Verdict } from '../../../catalog-schema/index.ts';

/**
 * A part's place in the list, compared number by number, the lesser first; ties by id, a superseded part after its successors.
 * With prices: group (direct and adapt, unproven, no), priced before unpriced, total in minor units. Without, and among the unpriced of a
 * group: verdict, fitProbability downwards, minutes of work. Every number is rounded before it is compared.
 */
export type OrderKey = readonly [group: number, unpriced: 0 | 1, number, number, number];

const RANK: Readonly<Record<Verdict, number>> = { direct: 0, adapt: 1, unproven: 2, no: 3 };
const GROUP: Readonly<Record<Verdict, number>> = { direct: 0, adapt: 0, unproven: 2, no: 3 };

export interface PlaceInOrder {
  readonly verdict: Verdict;
  /** rounded to six decimals */
  readonly fitProbability: number;
  readonly minutes: number;
  /** undefined where the part has no price */
  readonly totalMinor: number | undefined;
  /** whether prices were given at all */
  readonly isPriced: boolean;
}

export function orderKeyOf({ verdict, fitProbability, minutes, totalMinor, isPriced }: PlaceInOrder): OrderKey {
  if (totalMinor !== undefined) return [GROUP[verdict], 0, totalMinor, 0, 0];
  const [rank, chance, work] = [RANK[verdict], -Math.round(fitProbability * 1e6), Math.round(minutes * 1000)];
  return isPriced ? [GROUP[verdict], 1, rank, chance, work] : [rank, 0, chance, work, 0];
}

export function compareKeys(a: OrderKey, b: OrderKey): number {
  for (let index = 0; index < a.length; index++) if (a[index]! !== b[index]!) return a[index]! - b[index]!;
  return 0;
}
