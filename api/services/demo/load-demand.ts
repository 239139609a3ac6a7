import { randomUUID } from 'node:crypto';
import type { PastDemand } from '../../../catalog-schema/index.ts';
import { appendStockMove, type Tx } from '../../store/index.ts';

/** Where units lay of a part that has no bin any more. */
const PAST_BIN = 'past';

/** The past as the ledger would have it: units that came and went, so that nothing of it lies on the shelf. */
export async function storeDemand(tx: Tx, demand: PastDemand, binOf: ReadonlyMap<string, string>, knownParts: ReadonlySet<string>, now: Date): Promise<void> {
  for (const { partId, daysAgo, qty } of demand) {
    if (!knownParts.has(partId)) continue;
    const at = new Date(now.getTime() - daysAgo * 86_400_000).toISOString();
    const move = { partId, bin: binOf.get(partId) ?? PAST_BIN, toBin: null, qty, booked: null, reservedBy: 0, jobId: null, reservationId: null, orderLineId: null, reason: 'earlier', unitCost: null, currency: null, by: null, at };
    await appendStockMove(tx, { ...move, id: randomUUID(), kind: 'in', onHandBy: qty });
    await appendStockMove(tx, { ...move, id: randomUUID(), kind: 'out', onHandBy: -qty });
  }
}
