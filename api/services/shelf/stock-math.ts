import type { StockBinRow } from '../../store/index.ts';

/** What a move does to the bin it happens in. */
export interface StockEffect { readonly onHandBy: number; readonly reservedBy: number }

/** A bin after a move. Units that come in at a cost of their own change the average; all others leave it. */
export function applyEffect(bin: StockBinRow, { onHandBy, reservedBy }: StockEffect, cameAt: number | undefined): StockBinRow {
  return {
    ...bin, onHand: bin.onHand + onHandBy, reserved: bin.reserved + reservedBy,
    unitCost: cameAt === undefined || onHandBy <= 0 ? bin.unitCost : averageCost(bin, onHandBy, cameAt),
  };
}

/**
 * Weighted average cost of a unit after each receipt (the formula of IAS 2, 25 and 27, from memory), in ten-thousandths, rounded half to even.
 * Exact. What comes to an empty bin sets the cost anew.
 */
function averageCost({ onHand, unitCost }: StockBinRow, units: number, cost: number): number {
  if (onHand <= 0) return cost;
  const [all, count] = [BigInt(onHand) * BigInt(unitCost) + BigInt(units) * BigInt(cost), BigInt(onHand + units)];
  const down = all / count;
  const twice = 2n * (all % count);
  return Number(twice > count || (twice === count && down % 2n === 1n) ? down + 1n : down);
}
