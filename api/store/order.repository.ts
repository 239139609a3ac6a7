import type { Selectable } from 'kysely';
import type { Db, Tx } from './database.ts';
import type { ArrivalShareTable, LeadDayTable, OrderEventTable, OrderWishTable, SupplierOrderTable } from './order.table.ts';

export type OrderEventRow = Omit<Selectable<OrderEventTable>, 'seq'>;
export interface OrderFilter { readonly id?: string; readonly ids?: readonly string[]; readonly number?: number; readonly supplierId?: string; readonly states?: readonly string[] }

const EVENT = ['id', 'orderId', 'kind', 'body', 'by', 'at'] as const;
/** SQLite takes some thousand values in one statement. */
const AT_ONCE = 500;

/** Orders, the newest first. */
export function listOrders(db: Db, { id, ids, number, supplierId, states }: OrderFilter = {}): Promise<SupplierOrderTable[]> {
  return db.selectFrom('supplierOrder').selectAll()
    .$if(id !== undefined, (query) => query.where('id', '=', id!))
    .$if(ids !== undefined, (query) => query.where('id', 'in', ids!))
    .$if(number !== undefined, (query) => query.where('number', '=', number!))
    .$if(supplierId !== undefined, (query) => query.where('supplierId', '=', supplierId!))
    .$if(states !== undefined, (query) => query.where('state', 'in', states!))
    .orderBy('number', 'desc').execute();
}

/** Adds an order under the next number. */
export async function insertOrder(tx: Tx, order: Omit<SupplierOrderTable, 'number'>): Promise<SupplierOrderTable> {
  const last = await tx.selectFrom('supplierOrder').select(({ fn }) => fn.max('number').as('number')).executeTakeFirst();
  const row = { ...order, number: (last?.number ?? 0) + 1 };
  await tx.insertInto('supplierOrder').values(row).execute();
  return row;
}

export async function updateOrderState(tx: Tx, id: string, state: string): Promise<void> {
  await tx.updateTable('supplierOrder').set({ state }).where('id', '=', id).execute();
}

/** The events of these orders, each order's in their order. */
export async function listOrderEvents(db: Db, orderIds: readonly string[]): Promise<OrderEventRow[]> {
  const rows: OrderEventRow[] = [];
  for (let start = 0; start < orderIds.length; start += AT_ONCE) {
    rows.push(...await db.selectFrom('orderEvent').select(EVENT).where('orderId', 'in', orderIds.slice(start, start + AT_ONCE)).orderBy('seq').execute());
  }
  return rows;
}

export function findOrderEvent(db: Db, id: string): Promise<OrderEventRow | undefined> {
  return db.selectFrom('orderEvent').select(EVENT).where('id', '=', id).executeTakeFirst();
}

export async function insertOrderEvent(tx: Tx, row: OrderEventRow): Promise<void> {
  await tx.insertInto('orderEvent').values(row).execute();
}

export function findOrderWish(db: Db, id: string): Promise<OrderWishTable | undefined> {
  return db.selectFrom('orderWish').selectAll().where('id', '=', id).executeTakeFirst();
}

/** The orders that have, or had, a wish of this job. */
export async function listOrdersOfJob(db: Db, jobId: string): Promise<string[]> {
  return (await db.selectFrom('orderWish').select('orderId').distinct().where('jobId', '=', jobId).orderBy('orderId').execute()).map((row) => row.orderId);
}

/** Orders that came whole while a job's wish in them got less than it asked for: another job was first. */
export async function listOvertakenOrders(db: Db): Promise<string[]> {
  const rows = await db.selectFrom('orderWish as w').innerJoin('supplierOrder as o', 'o.id', 'w.orderId').select('w.orderId').distinct()
    .where('o.state', '=', 'received').where('w.jobId', 'is not', null)
    .where('w.qty', '>', (eb) => eb.selectFrom('arrivalShare as s').select(({ fn }) => fn.coalesce(fn.sum<number>('s.qty'), eb.lit(0)).as('got')).whereRef('s.serveId', '=', 'w.id'))
    .execute();
  return rows.map((row) => row.orderId);
}

export async function insertOrderWishes(tx: Tx, wishes: readonly OrderWishTable[]): Promise<void> {
  for (let start = 0; start < wishes.length; start += 100) await tx.insertInto('orderWish').values(wishes.slice(start, start + 100)).execute();
}

/** What receipts brought to these wishes. */
export async function listArrivalShares(db: Db, serveIds: readonly string[]): Promise<ArrivalShareTable[]> {
  const rows: ArrivalShareTable[] = [];
  for (let start = 0; start < serveIds.length; start += AT_ONCE) {
    rows.push(...await db.selectFrom('arrivalShare').selectAll().where('serveId', 'in', serveIds.slice(start, start + AT_ONCE)).execute());
  }
  return rows;
}

export async function insertArrivalShares(tx: Tx, shares: readonly ArrivalShareTable[]): Promise<void> {
  if (shares.length > 0) await tx.insertInto('arrivalShare').values(shares).execute();
}

/** Days of delivery in the order in which they were learned; of one supplier, or of these orders. */
export function listLeadDays(db: Db, { supplierId, orderIds }: { supplierId?: string; orderIds?: readonly string[] } = {}): Promise<LeadDayTable[]> {
  return db.selectFrom('leadDay').selectAll()
    .$if(supplierId !== undefined, (query) => query.where('supplierId', '=', supplierId!))
    .$if(orderIds !== undefined, (query) => query.where('orderId', 'in', orderIds!))
    .orderBy('at').orderBy('receiptId').execute();
}

export async function insertLeadDay(tx: Tx, row: LeadDayTable): Promise<void> {
  await tx.insertInto('leadDay').values(row).execute();
}
