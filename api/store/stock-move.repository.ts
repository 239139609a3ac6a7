import { sql, type Selectable } from 'kysely';
import type { Db, Tx } from './database.ts';
import type { StockBinTable, StockMoveTable } from './stock-move.table.ts';

export type StockMoveRow = Selectable<StockMoveTable>;
export type NewStockMove = Omit<StockMoveRow, 'seq'>;
export type StockBinRow = StockBinTable;

/** Units put aside for a job or sold over the counter, as their moves add up; `made` is what was taken at first. */
export interface ReservationSum {
  readonly id: string;
  readonly partId: string;
  readonly bin: string;
  readonly jobId: string | null;
  readonly at: string;
  readonly made: number;
  readonly left: number;
}

/** Every bin by its name, or those of one part, or those of one name. */
export function listStockBins(db: Db, only: { partId?: string; bin?: string } = {}): Promise<StockBinRow[]> {
  return db.selectFrom('stockBin').selectAll()
    .$if(only.partId !== undefined, (query) => query.where('partId', '=', only.partId!))
    .$if(only.bin !== undefined, (query) => query.where('bin', '=', only.bin!))
    .orderBy('bin').orderBy('partId').execute();
}

export function findStockMove(db: Db, id: string): Promise<StockMoveRow | undefined> {
  return db.selectFrom('stockMove').selectAll().where('id', '=', id).executeTakeFirst();
}

/** Moves in the order of the ledger, behind `after` (a `seq`); `last` turns it round: the newest first. */
export function listStockMoves(db: Db, only: { partId?: string; bin?: string; jobId?: string; after?: number; last?: boolean; most: number }): Promise<StockMoveRow[]> {
  return db.selectFrom('stockMove').selectAll()
    .$if(only.partId !== undefined, (query) => query.where('partId', '=', only.partId!))
    .$if(only.bin !== undefined, (query) => query.where((eb) => eb.or([eb('bin', '=', only.bin!), eb('toBin', '=', only.bin!)])))
    .$if(only.jobId !== undefined, (query) => query.where('jobId', '=', only.jobId!))
    .$if(only.after !== undefined, (query) => query.where('seq', '>', only.after!))
    .orderBy('seq', only.last === true ? 'desc' : 'asc').limit(only.most).execute();
}

/** @returns the move's place in the ledger. */
export async function appendStockMove(tx: Tx, move: NewStockMove): Promise<number> {
  const { insertId } = await tx.insertInto('stockMove').values(move).executeTakeFirstOrThrow();
  return Number(insertId);
}

export async function putStockBin(tx: Tx, bin: StockBinRow): Promise<void> {
  const { partId: _partId, bin: _bin, ...rest } = bin;
  await tx.insertInto('stockBin').values(bin).onConflict((conflict) => conflict.columns(['partId', 'bin']).doUpdateSet(rest)).execute();
}

/** What moves behind `after`, made later than `at`, did to what lies in a bin, and whether one of them was a count. */
export async function sumOnHandSince(db: Db, partId: string, bin: string, after: number, at: string): Promise<{ by: number; counted: boolean }> {
  const { rows } = await sql<{ by: number; counted: number }>`
    select coalesce(sum(case when "bin" = ${bin} then "onHandBy" else "qty" end), 0) as "by", coalesce(max("kind" = 'count'), 0) as "counted" from "stockMove"
    where "partId" = ${partId} and ("bin" = ${bin} or "toBin" = ${bin}) and "seq" > ${after} and julianday("at") > julianday(${at})`.execute(db);
  return { by: rows[0]!.by, counted: rows[0]!.counted === 1 };
}

/**
 * Reservations and sales by bin, in the order in which they were made: of one id, of one job, or all of which something is left. Units set aside
 * before the ledger began belong to none.
 */
export async function listReservationSums(db: Db, only: { id?: string; jobId?: string }): Promise<ReservationSum[]> {
  const where = only.id !== undefined ? sql`"reservationId" = ${only.id}`
    : only.jobId !== undefined ? sql`"jobId" = ${only.jobId} and "reservationId" is not null` : sql`"reservationId" is not null`;
  const having = only.id !== undefined ? sql`` : sql`having "left" > 0`;
  // A sale is an `out` of no job: its units are gone from the bin, and left with the customer until they are put back.
  const { rows } = await sql<ReservationSum>`
    select "reservationId" as "id", "partId", "bin", "jobId", min("at") as "at",
      sum(case when "kind" = 'reserve' or ("kind" = 'out' and "jobId" is null) then "qty" else 0 end) as "made",
      sum(case when "jobId" is null then -"onHandBy" else "reservedBy" end) as "left", min("seq") as "first"
    from "stockMove" where ${where}
    group by "reservationId", "partId", "bin", "jobId" ${having}
    order by "at", "id", "bin"`.execute(db);
  return rows.map(({ id, partId, bin, jobId, at, made, left }) => ({ id, partId, bin, jobId, at, made, left }));
}

/** Units in a bin that are put aside for a reservation, or for none where it is null. */
export async function sumReserved(db: Db, reservationId: string | null, partId: string, bin: string): Promise<number> {
  const row = await db.selectFrom('stockMove').select(({ fn }) => fn.coalesce(fn.sum<number>('reservedBy'), sql.lit(0)).as('units'))
    .where('reservationId', reservationId === null ? 'is' : '=', reservationId).where('partId', '=', partId).where('bin', '=', bin).executeTakeFirstOrThrow();
  return row.units;
}

/**
 * Units asked of the shelf by part and day (UTC) from `since` (YYYY-MM-DD) on: put aside, less what was given up, and gone, less what came back.
 * Counts, scrap, transfers, receipts and what went back to a supplier are no demand; what a receipt puts aside for a job that waited is.
 */
export async function listDemand(db: Db, since: string): Promise<{ partId: string; day: string; qty: number }[]> {
  const { rows } = await sql<{ partId: string; day: string; qty: number }>`
    select "partId", substr("at", 1, 10) as "day", sum("reservedBy" - "onHandBy") as "qty" from "stockMove"
    where "at" >= ${since}
      and (("kind" = 'out' and "orderLineId" is null) or "kind" = 'return' or ("kind" in ('reserve', 'release') and "reservationId" is not null))
    group by "partId", "day" having "qty" <> 0 order by "day", "partId"`.execute(db);
  return rows;
}

/** Which of these parts the catalogue in this database has. */
export async function findKnownParts(db: Db, ids: readonly string[]): Promise<Set<string>> {
  const known = new Set<string>();
  for (let start = 0; start < ids.length; start += 500) {
    for (const { id } of await db.selectFrom('part').select('id').where('id', 'in', ids.slice(start, start + 500)).execute()) known.add(id);
  }
  return known;
}
