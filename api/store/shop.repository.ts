import type { Db, Tx } from './database.ts';
import type { OfferTable, ShopTable, SupplierTable } from './shop.table.ts';

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

/** Every offer, by part and supplier; those of one part only where it is named. */
export function listOffers(db: Db, partId?: string): Promise<OfferTable[]> {
  return db.selectFrom('offer').selectAll()
    .$if(partId !== undefined, (query) => query.where('partId', '=', partId!))
    .orderBy('partId').orderBy('supplierId').execute();
}

export async function insertOffers(tx: Tx, offers: readonly OfferTable[]): Promise<void> {
  for (let start = 0; start < offers.length; start += 100) {
    await tx.insertInto('offer').values(offers.slice(start, start + 100)).execute();
  }
}
