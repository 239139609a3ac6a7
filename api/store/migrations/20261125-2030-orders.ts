import { randomUUID } from 'node:crypto';
import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** The columns that this step reads, as they were then. */
interface Before {
  orderLine: { id: string; partId: string; qty: number; jobId: string | null; at: string; supplierId: string; unitPrice: number; currency: string; arrives: string };
  supplier: { id: string; freight: number; freeFreightFrom: number | null; minOrder: number | null };
  supplierOrder: { id: string; number: number; supplierId: string; state: string };
  orderEvent: { id: string; orderId: string; kind: string; body: string; by: string | null; at: string };
  orderWish: { id: string; orderId: string; lineId: string; jobId: string | null; qty: number; answer: string };
}

/** Suppliers as people know them, orders as logs that can only grow, what their receipts brought to whom, and what these taught. */
export const orders: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const column of ['name', 'contact', 'account', 'currency', 'tax', 'calendar'] as const) {
      await db.schema.alterTable('supplier').addColumn(column, 'text').execute();
    }
    await db.schema.alterTable('supplier').addColumn('rate', 'real').execute();
    await db.schema.alterTable('supplier').addColumn('pricesWithTax', 'integer').execute();
    await db.schema.alterTable('offer').addColumn('tax', 'text').execute();
    for (const column of ['name', 'contact', 'taxes'] as const) await db.schema.alterTable('shop').addColumn(column, 'text').execute();

    await db.schema.createTable('shopEdit')
      .addColumn('seq', 'integer', (c) => c.primaryKey().autoIncrement())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('what', 'text', (c) => c.notNull().check(sql`what in ('supplier', 'offer', 'shop')`))
      .addColumn('supplierId', 'text')
      .addColumn('partId', 'text')
      .addColumn('body', 'text', (c) => c.notNull())
      .addColumn('by', 'text')
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('shopEditBySupplier').on('shopEdit').columns(['supplierId', 'partId']).execute();

    await db.schema.createTable('supplierOrder')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('number', 'integer', (c) => c.notNull().unique())
      .addColumn('supplierId', 'text', (c) => c.notNull().references('supplier.id'))
      .addColumn('state', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('supplierOrderByState').on('supplierOrder').columns(['state', 'supplierId']).execute();

    await db.schema.createTable('orderEvent')
      .addColumn('seq', 'integer', (c) => c.primaryKey().autoIncrement())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('orderId', 'text', (c) => c.notNull().references('supplierOrder.id'))
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .addColumn('by', 'text')
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('orderEventByOrder').on('orderEvent').column('orderId').execute();

    await db.schema.createTable('orderWish')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('orderId', 'text', (c) => c.notNull().references('supplierOrder.id'))
      .addColumn('lineId', 'text', (c) => c.notNull())
      .addColumn('jobId', 'text', (c) => c.references('job.id'))
      .addColumn('qty', 'integer', (c) => c.notNull().check(sql`qty > 0`))
      .addColumn('answer', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('orderWishByJob').on('orderWish').column('jobId').execute();

    await db.schema.createTable('arrivalShare')
      .addColumn('receiptId', 'text', (c) => c.notNull().references('orderEvent.id'))
      .addColumn('lineId', 'text', (c) => c.notNull())
      .addColumn('serveId', 'text', (c) => c.notNull())
      .addColumn('jobId', 'text', (c) => c.notNull().references('job.id'))
      .addColumn('qty', 'integer', (c) => c.notNull().check(sql`qty > 0`))
      .addColumn('bin', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('arrivalShareKey', ['receiptId', 'lineId', 'serveId', 'bin'])
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('arrivalShareByServe').on('arrivalShare').column('serveId').execute();

    await db.schema.createTable('leadDay')
      .addColumn('receiptId', 'text', (c) => c.primaryKey().notNull().references('orderEvent.id'))
      .addColumn('orderId', 'text', (c) => c.notNull().references('supplierOrder.id'))
      .addColumn('supplierId', 'text', (c) => c.notNull().references('supplier.id'))
      .addColumn('days', 'integer', (c) => c.notNull().check(sql`days >= 0`))
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('leadDayBySupplier').on('leadDay').column('supplierId').execute();

    for (const [table, words] of [['shopEdit', 'edits of the shop'], ['orderEvent', 'events of orders'], ['arrivalShare', 'what receipts brought'], ['leadDay', 'days of delivery']] as const) {
      for (const verb of ['update', 'delete'] as const) {
        await sql`create trigger ${sql.ref(`${table}Refuses_${verb}`)} before ${sql.raw(verb)} on ${sql.table(table)}
          begin select raise(abort, ${sql.lit(`${words} are only ever added`)}); end`.execute(db);
      }
    }
    await moveLines(db as Kysely<Before>);
    await db.schema.dropTable('orderLine').execute();
  },
};

/** Lines that were drafted one by one become one draft a supplier. */
async function moveLines(db: Kysely<Before>): Promise<void> {
  const lines = await db.selectFrom('orderLine').selectAll().orderBy('at').orderBy('id').execute();
  const suppliers = await db.selectFrom('supplier').select(['id', 'freight', 'freeFreightFrom', 'minOrder']).orderBy('id').execute();
  let number = 0;
  for (const { id: supplierId, freight, freeFreightFrom, minOrder } of suppliers) {
    const own = lines.filter((line) => line.supplierId === supplierId);
    const first = own[0];
    if (first === undefined) continue;
    const orderId = randomUUID();
    number += 1;
    await db.insertInto('supplierOrder').values({ id: orderId, number, supplierId, state: 'draft' }).execute();
    const event = {
      kind: 'drafted', id: randomUUID(), at: first.at,
      terms: { currency: first.currency, freight, ...(freeFreightFrom === null ? {} : { freeFreightFrom }), ...(minOrder === null ? {} : { minOrder }), pricesWithTax: false },
      lines: own.map(({ id, partId, qty, jobId, at, unitPrice, arrives }) => ({
        lineId: id, partId, qty, unitPrice, leadDays: Math.max(0, Math.round((Date.parse(arrives) - Date.parse(at.slice(0, 10))) / 86_400_000)),
        serves: [{ id, ...(jobId === null ? {} : { jobId }), qty, at }],
      })),
    };
    await db.insertInto('orderEvent').values({ id: event.id, orderId, kind: event.kind, body: JSON.stringify(event), by: null, at: event.at }).execute();
    for (const { jobId, ...line } of own) {
      await db.insertInto('orderWish').values({ id: line.id, orderId, lineId: line.id, jobId, qty: line.qty, answer: JSON.stringify({ ...line, ...(jobId === null ? {} : { jobId }) }) }).execute();
    }
  }
}
