import type { Db, Tx } from './database.ts';
import type { ReservationTable, ShelfBinTable } from './shelf.table.ts';

/** A bin with what has been taken from it since: put aside for jobs, sold over the counter. */
export interface ShelfBinState extends ShelfBinTable {
  forJobs: number;
  sold: number;
}

export type ReservationWithBins = ReservationTable & { bins: { bin: string; qty: number }[] };

/** Every bin by its name, or those that hold one part. */
export function listShelfBins(db: Db, partId?: string): Promise<ShelfBinState[]> {
  return db.selectFrom('shelfBin as b')
    .leftJoin('reservationBin as t', (join) => join.onRef('t.partId', '=', 'b.partId').onRef('t.bin', '=', 'b.bin'))
    .leftJoin('reservation as r', 'r.id', 't.reservationId')
    .select((eb) => [
      'b.partId', 'b.bin', 'b.onHand', 'b.setAside', 'b.unitCost',
      eb.fn.coalesce(eb.fn.sum<number>('t.qty').filterWhere('r.jobId', 'is not', null), eb.lit(0)).as('forJobs'),
      eb.fn.coalesce(eb.fn.sum<number>('t.qty').filterWhere('r.jobId', 'is', null), eb.lit(0)).as('sold'),
    ])
    .$if(partId !== undefined, (query) => query.where('b.partId', '=', partId!))
    .groupBy(['b.partId', 'b.bin']).orderBy('b.bin').orderBy('b.partId').execute();
}

export async function insertShelfBins(tx: Tx, bins: readonly ShelfBinTable[]): Promise<void> {
  for (let start = 0; start < bins.length; start += 100) {
    await tx.insertInto('shelfBin').values(bins.slice(start, start + 100)).execute();
  }
}

export async function findReservation(db: Db, id: string): Promise<ReservationWithBins | undefined> {
  return (await withBins(db, await db.selectFrom('reservation').selectAll().where('id', '=', id).execute()))[0];
}

/** Reservations in the order in which they were made, or those of one job. */
export async function listReservations(db: Db, jobId?: string): Promise<ReservationWithBins[]> {
  return withBins(db, await db.selectFrom('reservation').selectAll()
    .$if(jobId !== undefined, (query) => query.where('jobId', '=', jobId!))
    .orderBy('at').orderBy('id').execute());
}

export async function insertReservation(tx: Tx, { bins, ...reservation }: ReservationWithBins): Promise<void> {
  await tx.insertInto('reservation').values(reservation).execute();
  await tx.insertInto('reservationBin').values(bins.map((taken) => ({ ...taken, reservationId: reservation.id, partId: reservation.partId }))).execute();
}

/** @returns whether there was one. Its units are free again. */
export async function deleteReservation(tx: Tx, id: string): Promise<boolean> {
  const result = await tx.deleteFrom('reservation').where('id', '=', id).executeTakeFirst();
  return result.numDeletedRows > 0n;
}

async function withBins(db: Db, reservations: ReservationTable[]): Promise<ReservationWithBins[]> {
  const bins = new Map<string, { bin: string; qty: number }[]>();
  const ids = reservations.map((reservation) => reservation.id);
  for (let start = 0; start < ids.length; start += 500) {
    const rows = await db.selectFrom('reservationBin').selectAll().where('reservationId', 'in', ids.slice(start, start + 500)).orderBy('bin').execute();
    for (const { reservationId, bin, qty } of rows) bins.set(reservationId, [...bins.get(reservationId) ?? [], { bin, qty }]);
  }
  return reservations.map((reservation) => ({ ...reservation, bins: bins.get(reservation.id) ?? [] }));
}
