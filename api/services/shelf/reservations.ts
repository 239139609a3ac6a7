import { randomUUID } from 'node:crypto';
import type { Reservation, ReservationRequest, StockMoveRequest } from '../../../catalog-schema/index.ts';
import { listReservationSums, listStockBins, type Db, type ReservationSum, type Tx } from '../../store/index.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';
import { recordMoves } from './record-moves.ts';

/** What is put aside or sold over the counter and not back yet, in the order in which it was taken; of one job where it is named. */
export async function readReservations(db: Db, jobId?: string): Promise<Reservation[]> {
  return gather(await listReservationSums(db, jobId === undefined ? {} : { jobId }), ({ left }) => left);
}

/** Whether a reservation or sale of this id was ever made here. */
export async function wasReserved(db: Db, id: string): Promise<boolean> {
  return (await listReservationSums(db, { id })).length > 0;
}

/**
 * Puts units aside for a job, or sells them over the counter where no job is named, within a transaction: from one bin where one has enough, else
 * from several, never more than are free. A repeated id changes nothing and answers what was taken at first.
 */
export async function reserveIn(tx: Tx, request: ReservationRequest, by?: string): Promise<Outcome<{ created: boolean; reservation: Reservation }>> {
  const { id, partId, qty, jobId, at } = request;
  const present = await listReservationSums(tx, { id });
  if (present.length > 0) return done({ created: false, reservation: gather(present, ({ made }) => made)[0]! });
  const bins = (await listStockBins(tx, { partId })).map(({ bin, onHand, reserved }) => ({ bin, free: Math.max(0, onHand - reserved) }));
  const taken = takeFrom(bins, qty);
  if (!taken) return refuse({ kind: 'conflict', why: `${qty} of ${partId} asked for, ${bins.reduce((sum, { free }) => sum + free, 0)} free` });
  const moves = taken.map((some, index): StockMoveRequest => ({
    id: index === 0 ? id : randomUUID(), kind: jobId === undefined ? 'out' : 'reserve', partId, ...some, reservationId: id, at,
    ...(jobId === undefined ? {} : { jobId }),
  }));
  const recorded = await recordMoves(tx, moves, by);
  // The parts of the batch are ours: what is wrong is the request's.
  if (!recorded.ok && recorded.refusal.kind === 'faults') {
    const { path, found, want } = recorded.refusal.faults[0]!;
    return refuseFault(path.replace(/^moves\[\d+\]\./, ''), found, want);
  }
  if (!recorded.ok) return recorded;
  return done({ created: true, reservation: { id, partId, qty, ...(jobId === undefined ? {} : { jobId }), at, ...nameBins(taken) } });
}

/** Makes units that were put aside free again, or takes what was sold back onto the shelf, within a transaction. */
export async function releaseIn(tx: Tx, id: string, at: string, by?: string): Promise<Outcome<null>> {
  const left = (await listReservationSums(tx, { id })).filter((sum) => sum.left > 0);
  if (left.length === 0) return refuse({ kind: 'not-found', what: `no reservation ${JSON.stringify(id.slice(0, 60))}` });
  const recorded = await recordMoves(tx, left.map((sum): StockMoveRequest => ({
    id: randomUUID(), kind: sum.jobId === null ? 'return' : 'release', partId: sum.partId, bin: sum.bin, qty: sum.left, reservationId: id, at,
  })), by);
  return recorded.ok ? done(null) : recorded;
}

function gather(sums: readonly ReservationSum[], qtyOf: (sum: ReservationSum) => number): Reservation[] {
  const byId = new Map<string, ReservationSum[]>();
  for (const sum of sums) if (qtyOf(sum) > 0) byId.set(sum.id, [...byId.get(sum.id) ?? [], sum]);
  return [...byId.values()].map((parts) => {
    const { id, partId, jobId, at } = parts[0]!;
    const bins = parts.map((sum) => ({ bin: sum.bin, qty: qtyOf(sum) }));
    return { id, partId, qty: bins.reduce((all, { qty }) => all + qty, 0), ...(jobId === null ? {} : { jobId }), at, ...nameBins(bins) };
  });
}

function nameBins(bins: readonly { bin: string; qty: number }[]): Pick<Reservation, 'bin' | 'bins'> {
  return { bin: bins.map(({ bin }) => bin).join(', '), ...(bins.length > 1 ? { bins: [...bins] } : {}) };
}

/** From one bin where one has enough, else from each in turn; undefined where all together have too few. */
function takeFrom(bins: readonly { bin: string; free: number }[], qty: number): { bin: string; qty: number }[] | undefined {
  const enough = bins.find((bin) => bin.free >= qty);
  if (enough) return [{ bin: enough.bin, qty }];
  const taken: { bin: string; qty: number }[] = [];
  let missing = qty;
  for (const { bin, free } of bins) {
    const some = Math.min(free, missing);
    if (some > 0) taken.push({ bin, qty: some });
    missing -= some;
  }
  return missing === 0 ? taken : undefined;
}
