import type { ShelfRow } from '../../../catalog-schema/index.ts';
import { listStockBins, type Db } from '../../store/index.ts';

/** Every bin, what is counted on cut off at none: a bin that was counted below what is put aside has nothing free. */
export async function readShelf(db: Db): Promise<ShelfRow[]> {
  return (await listStockBins(db)).map(({ partId, bin, onHand, reserved, unitCost }) => {
    const there = Math.max(0, onHand);
    const aside = Math.min(there, reserved);
    return { partId, bin, onHand: there, reserved: aside, free: there - aside, unitCost: unitCost / 10_000 };
  });
}
