import { randomUUID } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** What the tables before this one held. */
interface Before {
  shelfBin: { partId: string; bin: string; onHand: number; setAside: number; unitCost: number };
  reservation: { id: string; partId: string; qty: number; jobId: string | null; at: string };
  reservationBin: { reservationId: string; partId: string; bin: string; qty: number };
  shop: { currency: string };
}

/** The shelf as a ledger of moves that can only grow. What the bins held and what was taken from them become its first moves. */
export const stockMoves: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('stockMove')
      .addColumn('seq', 'integer', (c) => c.primaryKey().autoIncrement())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('bin', 'text', (c) => c.notNull())
      .addColumn('toBin', 'text')
      .addColumn('qty', 'integer', (c) => c.notNull())
      .addColumn('booked', 'integer')
      .addColumn('onHandBy', 'integer', (c) => c.notNull())
      .addColumn('reservedBy', 'integer', (c) => c.notNull())
      .addColumn('jobId', 'text', (c) => c.references('job.id'))
      .addColumn('reservationId', 'text')
      .addColumn('orderLineId', 'text')
      .addColumn('reason', 'text')
      .addColumn('unitCost', 'integer', (c) => c.check(sql`"unitCost" >= 0`))
      .addColumn('currency', 'text')
      .addColumn('by', 'text')
      .addColumn('at', 'text', (c) => c.notNull())
      // The database itself holds what a move of each kind does, so that adding the rows up is adding up the shelf.
      .addCheckConstraint('stockMoveDoes', sql`case "kind"
        when 'in' then "qty" > 0 and "onHandBy" = "qty" and "reservedBy" = 0
        when 'return' then "qty" > 0 and "onHandBy" = "qty" and "reservedBy" = 0
        when 'out' then "qty" > 0 and "onHandBy" = -"qty" and "reservedBy" = 0
        when 'scrap' then "qty" > 0 and "onHandBy" = -"qty" and "reservedBy" = 0
        when 'transfer' then "qty" > 0 and "onHandBy" = -"qty" and "reservedBy" = 0 and "toBin" is not null and "toBin" <> "bin"
        when 'reserve' then "qty" > 0 and "onHandBy" = 0 and "reservedBy" = "qty"
        when 'release' then "qty" > 0 and "onHandBy" = 0 and "reservedBy" = -"qty"
        when 'count' then "qty" >= 0 and "booked" is not null and "onHandBy" = "qty" - "booked" and "reservedBy" = 0
        else 0 end and ("kind" = 'transfer') = ("toBin" is not null) and ("kind" = 'count') = ("booked" is not null)`)
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('stockMoveByPlace').on('stockMove').columns(['partId', 'bin']).execute();
    await db.schema.createIndex('stockMoveByJob').on('stockMove').column('jobId').execute();
    await sql`create index "stockMoveByReservation" on "stockMove" ("reservationId") where "reservationId" is not null`.execute(db);
    for (const verb of ['update', 'delete'] as const) {
      await sql`create trigger ${sql.ref(`stockMoveRefuses_${verb}`)} before ${sql.raw(verb)} on "stockMove"
        begin select raise(abort, 'moves of the shelf are only ever added'); end`.execute(db);
    }
    await db.schema.createTable('stockBin')
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('bin', 'text', (c) => c.notNull())
      .addColumn('onHand', 'integer', (c) => c.notNull())
      .addColumn('reserved', 'integer', (c) => c.notNull().check(sql`"reserved" >= 0`))
      .addColumn('unitCost', 'integer', (c) => c.notNull().check(sql`"unitCost" >= 0`))
      .addColumn('seq', 'integer', (c) => c.notNull())
      .addPrimaryKeyConstraint('stockBinKey', ['partId', 'bin'])
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('stockBinByBin').on('stockBin').column('bin').execute();

    await carryOver(db as Kysely<Before>);
    for (const table of ['reservationBin', 'reservation', 'shelfBin']) await db.schema.dropTable(table).execute();
  },
};

async function carryOver(db: Kysely<Before>): Promise<void> {
  const at = new Date().toISOString();
  const currency = (await db.selectFrom('shop').select('currency').executeTakeFirst())?.currency ?? null;
  const moves: Record<string, unknown>[] = [];
  const none = { toBin: null, booked: null, onHandBy: 0, reservedBy: 0, jobId: null, reservationId: null, orderLineId: null, reason: null, unitCost: null, currency: null, by: null };
  for (const { partId, bin, onHand, setAside, unitCost } of await db.selectFrom('shelfBin').selectAll().orderBy('bin').orderBy('partId').execute()) {
    const place = { ...none, partId, bin, at, reason: 'opening', unitCost: Math.round(unitCost * 10_000), currency };
    moves.push(onHand > 0 ? { ...place, id: randomUUID(), kind: 'in', qty: onHand, onHandBy: onHand } : { ...place, id: randomUUID(), kind: 'count', qty: 0, booked: 0 });
    if (setAside > 0) moves.push({ ...place, id: randomUUID(), kind: 'reserve', qty: setAside, reservedBy: setAside, unitCost: null, currency: null });
  }
  const taken = await db.selectFrom('reservation as r').innerJoin('reservationBin as t', 't.reservationId', 'r.id')
    .select(['r.id', 'r.jobId', 'r.at', 't.partId', 't.bin', 't.qty']).orderBy('r.at').orderBy('r.id').orderBy('t.bin').execute();
  for (const { id, jobId, at: takenAt, partId, bin, qty } of taken) {
    const place = { ...none, id: randomUUID(), partId, bin, qty, jobId, at: takenAt, reservationId: id };
    moves.push(jobId === null ? { ...place, kind: 'out', onHandBy: -qty } : { ...place, kind: 'reserve', reservedBy: qty });
  }
  for (const move of moves) await (db as unknown as Kysely<Record<'stockMove', Record<string, unknown>>>).insertInto('stockMove').values(move).execute();
  await sql`insert into "stockBin" ("partId", "bin", "onHand", "reserved", "unitCost", "seq")
    select "partId", "bin", sum("onHandBy"), sum("reservedBy"), max("unitCost"), max("seq") from "stockMove" group by "partId", "bin"`.execute(db);
}
