import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** Prices, suppliers, the shelf, what is put aside from it and what is to be ordered. */
export const shop: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('shop')
      .addColumn('id', 'integer', (c) => c.primaryKey().check(sql`id = 1`))
      .addColumn('currency', 'text', (c) => c.notNull())
      .addColumn('labourPerHour', 'real')
      .addColumn('misfitCost', 'real')
      .addColumn('waitCostPerDay', 'real')
      .addColumn('kitPrices', 'text')
      .modifyEnd(sql`strict`).execute();

    await db.schema.createTable('supplier')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('position', 'integer', (c) => c.notNull())
      .addColumn('freight', 'real', (c) => c.notNull())
      .addColumn('freeFreightFrom', 'real')
      .addColumn('minOrder', 'real')
      .modifyEnd(sql`strict`).execute();

    await db.schema.createTable('offer')
      .addColumn('supplierId', 'text', (c) => c.notNull().references('supplier.id'))
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('price', 'real', (c) => c.notNull())
      .addColumn('breaks', 'text')
      .addColumn('coreCharge', 'real')
      .addColumn('validUntil', 'text')
      .addColumn('pack', 'integer')
      .addColumn('minQty', 'integer')
      .addColumn('leadDays', 'integer', (c) => c.notNull())
      .addColumn('inStock', 'integer')
      .addPrimaryKeyConstraint('offerKey', ['supplierId', 'partId'])
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('offerByPart').on('offer').column('partId').execute();

    await db.schema.createTable('shelfBin')
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('bin', 'text', (c) => c.notNull())
      .addColumn('onHand', 'integer', (c) => c.notNull().check(sql`"onHand" >= 0`))
      .addColumn('setAside', 'integer', (c) => c.notNull().check(sql`"setAside" between 0 and "onHand"`))
      .addColumn('unitCost', 'real', (c) => c.notNull())
      .addPrimaryKeyConstraint('shelfBinKey', ['partId', 'bin'])
      .modifyEnd(sql`strict`).execute();

    await db.schema.createTable('reservation')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('qty', 'integer', (c) => c.notNull().check(sql`qty > 0`))
      .addColumn('jobId', 'text', (c) => c.references('job.id'))
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('reservationByJob').on('reservation').column('jobId').execute();

    await db.schema.createTable('reservationBin')
      .addColumn('reservationId', 'text', (c) => c.notNull().references('reservation.id').onDelete('cascade'))
      .addColumn('partId', 'text', (c) => c.notNull())
      .addColumn('bin', 'text', (c) => c.notNull())
      .addColumn('qty', 'integer', (c) => c.notNull().check(sql`qty > 0`))
      .addPrimaryKeyConstraint('reservationBinKey', ['reservationId', 'bin'])
      .addForeignKeyConstraint('reservationBinOfShelf', ['partId', 'bin'], 'shelfBin', ['partId', 'bin'])
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('reservationBinByShelf').on('reservationBin').columns(['partId', 'bin']).execute();

    await db.schema.createTable('orderLine')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('qty', 'integer', (c) => c.notNull().check(sql`qty > 0`))
      .addColumn('jobId', 'text', (c) => c.references('job.id'))
      .addColumn('at', 'text', (c) => c.notNull())
      .addColumn('supplierId', 'text', (c) => c.notNull().references('supplier.id'))
      .addColumn('unitPrice', 'real', (c) => c.notNull())
      .addColumn('currency', 'text', (c) => c.notNull())
      .addColumn('arrives', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('orderLineByJob').on('orderLine').column('jobId').execute();
  },
};
