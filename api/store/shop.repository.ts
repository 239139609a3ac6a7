import type { Selectable } from 'kysely';
import type { Db, Tx } from './database.ts';
import type { OfferTable, ShopEditTable, ShopTable, SupplierTable } from './shop.table.ts';

export type ShopEditRow = Omit<Selectable<ShopEditTable>, 'seq'>;

export function findShop(db: Db): Promise<ShopTable | undefined> {
  return db.selectFrom('shop').selectAll().where('id', '=', 1).executeTakeFirst();
}

export async function putShop(tx: Tx, shop: Omit<ShopTable, 'id'>): Promise<void> {
  await tx.insertInto('shop').values({ id: 1, ...shop }).onConflict((conflict) => conflict.column('id').doUpdateSet(shop)).execute();
}

export function listSuppliers(db: Db): Promise<SupplierTable[]> {
  return db.selectFrom('supplier').selectAll().orderBy('position').orderBy('id').execute();
}

export async function insertSuppliers(tx: Tx, suppliers: readonly SupplierTable[]): Promise<void> {
  for (let start = 0; start < suppliers.length; start += 100) {
    await tx.insertInto('supplier').values(suppliers.slice(start, start + 100)).execute();
  }
}

export async function putSupplier(tx: Tx, supplier: SupplierTable): Promise<void> {
  await tx.insertInto('supplier').values(supplier).onConflict((conflict) => conflict.column('id').doUpdateSet(supplier)).execute();
}

/** Every offer, by part and supplier; those of one part, or of one supplier, only where it is named. */
export function listOffers(db: Db, { partId, supplierId }: { partId?: string | undefined; supplierId?: string } = {}): Promise<OfferTable[]> {
  return db.selectFrom('offer').selectAll()
    .$if(partId !== undefined, (query) => query.where('partId', '=', partId!))
    .$if(supplierId !== undefined, (query) => query.where('supplierId', '=', supplierId!))
    .orderBy('partId').orderBy('supplierId').execute();
}

export async function insertOffers(tx: Tx, offers: readonly OfferTable[]): Promise<void> {
  for (let start = 0; start < offers.length; start += 100) {
    await tx.insertInto('offer').values(offers.slice(start, start + 100)).execute();
  }
}

export async function putOffer(tx: Tx, offer: OfferTable): Promise<void> {
  await tx.insertInto('offer').values(offer).onConflict((conflict) => conflict.columns(['supplierId', 'partId']).doUpdateSet(offer)).execute();
}

export async function deleteOffer(tx: Tx, supplierId: string, partId: string): Promise<void> {
  await tx.deleteFrom('offer').where('supplierId', '=', supplierId).where('partId', '=', partId).execute();
}

export async function countOffers(db: Db): Promise<ReadonlyMap<string, number>> {
  const rows = await db.selectFrom('offer').select(({ fn }) => ['supplierId' as const, fn.countAll<number>().as('count')]).groupBy('supplierId').execute();
  return new Map(rows.map(({ supplierId, count }) => [supplierId, count]));
}

const EDIT = ['id', 'what', 'supplierId', 'partId', 'body', 'by', 'at'] as const;

export function findShopEdit(db: Db, id: string): Promise<ShopEditRow | undefined> {
  return db.selectFrom('shopEdit').select(EDIT).where('id', '=', id).executeTakeFirst();
}

export async function insertShopEdit(tx: Tx, row: ShopEditRow): Promise<void> {
  await tx.insertInto('shopEdit').values(row).execute();
}

/** The last edit of each card or offer, of one supplier where it is named. */
export function listLastShopEdits(db: Db, what: ShopEditRow['what'], supplierId?: string): Promise<ShopEditRow[]> {
  return db.selectFrom('shopEdit').select(EDIT)
    .where('seq', 'in', (query) => query.selectFrom('shopEdit').select(({ fn }) => fn.max('seq').as('seq')).where('what', '=', what)
      .$if(supplierId !== undefined, (inner) => inner.where('supplierId', '=', supplierId!)).groupBy(['supplierId', 'partId']))
    .orderBy('seq').execute();
}
