import sqlite3 from 'sqlite3';
import type { Reservation, StockMove, StockRow } from '../../catalog-schema/index.ts';

interface Totals { onHand: number; reserved: number }

/**
 * The shelf added up anew from the moves alone, by a rule written apart from the product's: what a move of each kind means. A move that takes what
 * is not free is told, unless a count had brought the bin below before.
 */
export function replay(moves: readonly StockMove[], wrong: string[]): Map<string, Totals> {
  const bins = new Map<string, Totals>();
  const open = (partId: string, bin: string): Totals => {
    const key = `${partId} ${bin}`;
    const totals = bins.get(key) ?? { onHand: 0, reserved: 0 };
    bins.set(key, totals);
    return totals;
  };
  let last = 0;
  for (const { seq, kind, partId, bin, toBin, qty, booked } of moves) {
    if (seq <= last) wrong.push(`move ${seq} stands behind ${last}`);
    last = seq;
    const totals = open(partId, bin);
    const freeBefore = totals.onHand - totals.reserved;
    if (kind === 'in' || kind === 'return') totals.onHand += qty;
    if (kind === 'out' || kind === 'scrap' || kind === 'transfer') totals.onHand -= qty;
    if (kind === 'transfer') open(partId, toBin!).onHand += qty;
    if (kind === 'reserve') totals.reserved += qty;
    if (kind === 'release') totals.reserved -= qty;
    if (kind === 'count') {
      if (booked !== totals.onHand) wrong.push(`count ${seq} says the books had ${booked}, they had ${totals.onHand}`);
      totals.onHand = qty;
    }
    if (totals.reserved < 0) wrong.push(`move ${seq}: ${totals.reserved} put aside in ${bin}`);
    if (['out', 'scrap', 'transfer', 'reserve'].includes(kind) && qty > freeBefore) wrong.push(`move ${seq} took ${qty} of ${freeBefore} free in ${bin}`);
  }
  return bins;
}

/** Whether the rows that the server answers are what the moves add up to. */
export function compareRows(bins: ReadonlyMap<string, Totals>, rows: readonly StockRow[], wrong: string[]): void {
  if (rows.length !== bins.size) wrong.push(`${rows.length} rows, the moves speak of ${bins.size}`);
  for (const row of rows) {
    const totals = bins.get(`${row.partId} ${row.bin}`);
    if (totals?.onHand !== row.onHand || totals.reserved !== row.reserved || row.free !== row.onHand - row.reserved) wrong.push(`${JSON.stringify(row)}: the moves add up to ${JSON.stringify(totals)}`);
    if ((row.below === true) !== (row.onHand < 0 || row.free < 0)) wrong.push(`${JSON.stringify(row)} does not say how it stands`);
  }
}

/** Units put aside for jobs are those of the reservations, and none of them twice. */
export function compareReservations(moves: readonly StockMove[], reservations: readonly Reservation[], wrong: string[]): void {
  const left = new Map<string, number>();
  for (const { kind, qty, reservationId, jobId } of moves) {
    if (reservationId === undefined) continue;
    const by = jobId === undefined ? { out: qty, return: -qty }[kind as string] ?? 0 : { reserve: qty, release: -qty }[kind as string] ?? 0;
    left.set(reservationId, (left.get(reservationId) ?? 0) + by);
  }
  const wanted = [...left].filter(([, units]) => units !== 0);
  const found = new Map(reservations.map(({ id, qty }) => [id, qty]));
  if (found.size !== wanted.length) wrong.push(`${found.size} reservations are listed, the moves leave ${wanted.length}`);
  for (const [id, units] of wanted) if (found.get(id) !== units) wrong.push(`reservation ${id} is listed with ${found.get(id)}, the moves leave ${units}`);
}

/** What the database itself says: its soundness, and bins whose kept total is not the sum of their moves, added up by SQL. */
export async function askDatabase(file: string): Promise<string[]> {
  const rows = await new Promise<{ said: string }[]>((resolve, reject) => {
    const db: sqlite3.Database = new sqlite3.Database(file, () => {
      db.all<{ said: string }>(`
        select integrity_check as said from pragma_integrity_check where integrity_check <> 'ok' union all
        select b."partId" || ' in ' || b."bin" || ' is kept as ' || b."onHand" || '/' || b."reserved" from "stockBin" b where
          b."onHand" <> (select coalesce(sum("onHandBy"), 0) from "stockMove" m where m."partId" = b."partId" and m."bin" = b."bin")
            + (select coalesce(sum("qty"), 0) from "stockMove" m where m."partId" = b."partId" and m."toBin" = b."bin")
          or b."reserved" <> (select coalesce(sum("reservedBy"), 0) from "stockMove" m where m."partId" = b."partId" and m."bin" = b."bin")`, (error, found) => {
        db.close();
        if (error) reject(error);
        else resolve(found);
      });
    });
  });
  return rows.map(({ said }) => said);
}
