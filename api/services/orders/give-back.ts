import { randomUUID } from 'node:crypto';
import { machineKindOf, type JobDocument, type OrderBook, type OrderEvent, type StockMoveRequest } from '../../../catalog-schema/index.ts';
import { findJob, findOutcome, insertOutcome, listReservationSums, listStockBins, type SupplierOrderTable, type Tx } from '../../store/index.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { writeOutcomeRow } from '../outcomes/outcome-service.ts';
import { recordMoves } from '../shelf/index.ts';

type Returned = Extract<OrderEvent, { kind: 'returned' }>;

/**
 * Books what goes back to a supplier, within a transaction and behind its event: units put aside for the job it came from first, then free
 * ones. A wrong fit counts against that part on that kind of machine, once however often it is told.
 */
export async function bookReturnIn(tx: Tx, row: SupplierOrderTable, book: OrderBook, event: Returned): Promise<Outcome<null>> {
  const returned = book.returns.at(-1)!;
  const { partId, lineId } = book.lines.find((line) => line.lineId === event.lineId)!;
  const { jobId } = event;
  const job = jobId === undefined ? undefined : await findJob(tx, jobId);
  if (jobId !== undefined && job === undefined) return refuseFault('jobId', JSON.stringify(jobId), 'the id of a job');
  if (returned.fromStock > 0) {
    const moves: StockMoveRequest[] = [];
    let left = returned.fromStock;
    const out = (bin: string, qty: number): void => {
      moves.push({ id: randomUUID(), kind: 'out', partId, bin, qty, orderLineId: lineId, reason: `back to the supplier, order ${row.number}: ${event.reason}`, at: event.at });
      left -= qty;
    };
    for (const held of jobId === undefined ? [] : await listReservationSums(tx, { jobId })) {
      const qty = held.partId === partId ? Math.min(left, held.left) : 0;
      if (qty === 0) continue;
      moves.push({ id: randomUUID(), kind: 'release', partId, bin: held.bin, qty, reservationId: held.id, jobId: jobId!, at: event.at });
      out(held.bin, qty);
    }
    for (const bin of await listStockBins(tx, { partId })) {
      const qty = Math.min(left, Math.max(0, bin.onHand - bin.reserved));
      if (qty > 0) out(bin.bin, qty);
    }
    if (left > 0) return refuse({ kind: 'conflict', why: `${returned.fromStock} of ${partId} to go back, ${returned.fromStock - left} free or put aside for that job` });
    const recorded = await recordMoves(tx, moves, event.by);
    if (!recorded.ok) return recorded;
  }
  if (event.reason === 'wrong-fit' && job !== undefined && await findOutcome(tx, event.id) === undefined) {
    const { id, by, at, words, why = 'did-not-go-on' } = event;
    const machineKind = machineKindOf((JSON.parse(job.document) as JobDocument).machine);
    await insertOutcome(tx, writeOutcomeRow({ id, jobId: job.id, partId, result: 'came-back', reason: why, at, ...(by === undefined ? {} : { by }), ...(words === undefined ? {} : { words }) }, machineKind));
  }
  return done(null);
}
