import type { ReorderRow } from '../../catalog-schema/index.ts';
import type { Draws } from '../sim-identify/random.ts';
import { drawDemand, drawLead, type TruePart } from './draw-shop.ts';

const WARM_UP_CYCLES = 12;
const CYCLES = 104;

/** What came of keeping a part by its row: units wanted, and of them those the shelf had. */
export interface KeptShelf { readonly wanted: number; readonly served: number; readonly meanKept: number }

/**
 * Two years of a part, day by day: what is wanted goes out or is owed; every review the position is looked at and batches are ordered; what was
 * ordered comes after its lead time.
 */
export function keepShelf(draws: Draws, part: TruePart, row: ReorderRow, reviewDays: number, startDay: number): KeptShelf {
  const arrivals = new Map<number, number>();
  let net = row.reorderAt + 1 + Math.floor(draws.unit() * row.batch);
  let position = net;
  let [wanted, served, kept] = [0, 0, 0];
  const warm = WARM_UP_CYCLES * reviewDays;
  const days = warm + CYCLES * reviewDays;
  for (let day = 0; day < days; day++) {
    if (day % reviewDays === 0) {
      const batches = Math.max(0, Math.ceil((row.reorderAt + 1 - position) / row.batch));
      position += batches * row.batch;
      const arrives = day + drawLead(draws, part);
      if (batches > 0) arrivals.set(arrives, (arrivals.get(arrives) ?? 0) + batches * row.batch);
    }
    net += arrivals.get(day) ?? 0;
    const units = drawDemand(draws, part, startDay + day);
    if (day >= warm) {
      wanted += units;
      served += Math.min(units, Math.max(0, net));
      kept += Math.max(0, net);
    }
    net -= units;
    position -= units;
  }
  return { wanted, served, meanKept: kept / (days - warm) };
}
