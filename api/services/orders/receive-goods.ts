import { randomUUID } from 'node:crypto';
import {
  convertPrice, type JobDocument, type OrderBook, type OrderEvent, type SupplierCalendar, type SupplierCard,
} from '../../../catalog-schema/index.ts';
import { findJob, insertArrivalShares, insertLeadDay, listStockBins, type ArrivalShareTable, type SupplierOrderTable, type Tx } from '../../store/index.ts';
import { arrivalDate, type SentAt } from '../../engine/source/index.ts';
import { clockOf, dayOf } from '../clock.ts';
import { done, type Outcome } from '../outcome.ts';
import { recordMoves } from '../shelf/index.ts';
import { readCurrency, readSupplierCards } from '../suppliers/index.ts';
import { compare, listOpenServes, type OpenServe } from './order-books.ts';

type Received = Extract<OrderEvent, { kind: 'received' }>;

/** Where goods go whose part has no bin yet and for which nobody named one. */
const ARRIVALS = 'Arrivals';
/** Longer than anything is waited for. */
const MOST_DAYS = 3_660;

/**
 * Books what came, within a transaction and behind its event: good units into their bin, and from there to the jobs that wait for the part,
 * whoever's order it was: the one that wants it soonest first, then the one that has waited longest. Teaches the supplier's days of delivery.
 */
export async function bookReceiptIn(tx: Tx, row: SupplierOrderTable, book: OrderBook, event: Received): Promise<Outcome<null>> {
  const shopCurrency = await readCurrency(tx);
  const card = (await readSupplierCards(tx)).find(({ id }) => id === row.supplierId);
  const shares: ArrivalShareTable[] = [];
  for (const came of event.lines) {
    const line = book.lines.find(({ lineId }) => lineId === came.lineId)!;
    if (came.good === 0) continue;
    const bin = came.bin ?? await findBin(tx, line.partId);
    const waiting = await orderWaiting(tx, await listOpenServes(tx, { partId: line.partId, orderId: row.id }));
    const moves = [{
      id: randomUUID(), kind: 'in' as const, partId: line.partId, bin, qty: came.good, orderLineId: line.lineId, at: event.at, reason: `order ${row.number}`,
      ...costOf(line.unitPrice, book.terms.currency, shopCurrency, card),
    }];
    // A bin that was counted below none swallows some of what comes.
    const stood = (await listStockBins(tx, { partId: line.partId, bin }))[0];
    let left = Math.min(came.good, Math.max(0, came.good + (stood?.onHand ?? 0) - (stood?.reserved ?? 0)));
    const reserves = [];
    for (const serve of waiting) {
      const qty = Math.min(left, serve.qty);
      if (qty === 0) break;
      left -= qty;
      const id = randomUUID();
      reserves.push({ id, kind: 'reserve' as const, partId: line.partId, bin, qty, jobId: serve.jobId!, reservationId: id, orderLineId: line.lineId, at: event.at });
      shares.push({ receiptId: event.id, lineId: line.lineId, serveId: serve.serveId, jobId: serve.jobId!, qty, bin });
    }
    const recorded = await recordMoves(tx, [...moves, ...reserves], event.by);
    if (!recorded.ok) return recorded;
    // The next line may hold the same part: what was given to a job now is not given to it again.
    await insertArrivalShares(tx, shares.splice(0));
  }
  if (event.lines.some(({ good }) => good > 0)) {
    await insertLeadDay(tx, { receiptId: event.id, orderId: row.id, supplierId: row.supplierId, days: countLeadDays(sentAtOf(book.sent!.at), dayOf(new Date(event.at)), card?.calendar), at: event.at });
  }
  return done(null);
}

/** Jobs that wait and are not signed off, the one that is to be first at the head. */
async function orderWaiting(tx: Tx, serves: readonly OpenServe[]): Promise<OpenServe[]> {
  const wanted = new Map<string, string>();
  for (const jobId of new Set(serves.flatMap((serve) => serve.jobId ?? []))) {
    const job = await findJob(tx, jobId);
    if (job === undefined) continue;
    const document = JSON.parse(job.document) as JobDocument;
    // A job that names no day waits behind those that do.
    if (document.signedOff === undefined) wanted.set(jobId, wantedBy(document) ?? '9999-12-31');
  }
  return serves.filter(({ jobId }) => jobId !== undefined && wanted.has(jobId))
    .toSorted((a, b) => compare(wanted.get(a.jobId!)!, wanted.get(b.jobId!)!) || compare(a.at, b.at));
}

/** The day by which a job wants its part. */
export function wantedBy(document: JobDocument): string | undefined {
  return document.get?.by;
}

async function findBin(tx: Tx, partId: string): Promise<string> {
  const bins = await listStockBins(tx, { partId });
  return bins.toSorted((a, b) => b.onHand - a.onHand || compare(a.bin, b.bin))[0]?.bin ?? ARRIVALS;
}

/** What a unit cost, in the shop's currency; nothing is said where no rate is known. */
function costOf(unitPrice: number, currency: string, shopCurrency: string, card: SupplierCard | undefined): { unitCost?: number } {
  if (currency === shopCurrency) return { unitCost: unitPrice };
  return card?.rate === undefined ? {} : { unitCost: convertPrice(unitPrice, card.rate) };
}

/** A moment by the clock on the shop's wall. */
export function sentAtOf(moment: string): SentAt {
  return { day: dayOf(new Date(moment)), time: clockOf(new Date(moment)) };
}

/** Days from the sending of an order to a receipt, as the supplier's offers count theirs: working days where it has a calendar. */
export function countLeadDays(sent: SentAt, receivedOn: string, calendar: SupplierCalendar | undefined): number {
  let days = 0;
  while (days < MOST_DAYS && arrivalDate(sent, days, calendar) < receivedOn) days += 1;
  return days;
}
