import type { Verdict } from '../../../catalog-schema/index.ts';

/**
 * A place in the order of the contract as one whole number, less is sooner. With prices: verdict group (direct and adapt, unproven, no), priced
 * before unpriced, total in minor units. Without, and among the unpriced of a group: verdict, fitProbability downwards, minutes of work. Every
 * number is rounded before it is compared.
 */
export type OrderKey = number;

const RANK: Readonly<Record<Verdict, number>> = { direct: 0, adapt: 1, unproven: 2, no: 3 };
const GROUP: Readonly<Record<Verdict, number>> = { direct: 0, adapt: 0, unproven: 2, no: 3 };
/** More than there are thousandths of a minute in three months: work that long is as long as that. */
const WORKS = 2 ** 27;
/** More than there are probabilities of six decimals. */
const CHANCES = 2 ** 20;
const MILLION = 1e6;
/** More than any of the rest comes to. Seven of them and a rest are below 2^53: every key is exact. */
const LEAD = 2 ** 50;

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
  if (totalMinor !== undefined) return pricedKeyOf(verdict, totalMinor);
  const chance = MILLION - Math.round(fitProbability * MILLION);
  const rest = chance * WORKS + Math.min(WORKS - 1, Math.round(minutes * 1000));
  return isPriced ? (2 * GROUP[verdict] + 1) * LEAD + RANK[verdict] * CHANCES * WORKS + rest : RANK[verdict] * LEAD + rest;
}

/** The key of a part that has a price. What costs more than eleven million millions of money is taken for that. */
export function pricedKeyOf(verdict: Verdict, totalMinor: number): OrderKey {
  return 2 * GROUP[verdict] * LEAD + Math.min(LEAD - 1, totalMinor);
}

/** No part in doubt comes before it, none in no doubt behind it. */
export function doubtKeyOf(isPriced: boolean): OrderKey {
  return (isPriced ? 2 * GROUP.unproven : RANK.unproven) * LEAD;
}
