import { readFileSync } from 'node:fs';
import { sql } from 'kysely';
import sqlite3 from 'sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { bookOrderEvent, orderEvent, orderLine } from '../../catalog-schema/index.ts';
import { insertJob } from './job.repository.ts';
import { openStore, type Store } from './open-store.ts';
import {
  findOrderWish, insertArrivalShares, insertLeadDay, insertOrder, insertOrderEvent, insertOrderWishes, listOrderEvents, listOrders, listOvertakenOrders,
} from './order.repository.ts';
import { insertShopEdit, insertSuppliers, listSuppliers } from './shop.repository.ts';
import { makeTemporaryFile } from './temporary-file.ts';

let temporary: ReturnType<typeof makeTemporaryFile>;
let store: Store | undefined;
beforeEach(() => { temporary = makeTemporaryFile(); });
afterEach(async () => {
  await store?.close();
  store = undefined;
  temporary.remove();
});

const at = '2026-11-25T09:00:00Z';
const jobId = '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a01';
const plainSupplier = { position: 0, freight: 5, freeFreightFrom: null, minOrder: null, name: null, contact: null, account: null, currency: null, rate: null, tax: null, pricesWithTax: null, calendar: null };

/** An order with one event of each table that hangs on it. */
async function fill(): Promise<Store> {
  store = await openStore(temporary.file);
  await store.transact(async (tx) => {
    await insertSuppliers(tx, [{ id: 's1', ...plainSupplier }]);
    await insertJob(tx, { id: jobId, createdAt: at });
    await insertOrder(tx, { id: 'o1', supplierId: 's1', state: 'received' });
    await insertOrderEvent(tx, { id: 'e1', orderId: 'o1', kind: 'drafted', body: '{}', by: null, at });
    await insertOrderWishes(tx, [{ id: 'w1', orderId: 'o1', lineId: 'l1', jobId, qty: 2, answer: 'null' }]);
    await insertArrivalShares(tx, [{ receiptId: 'e1', lineId: 'l1', serveId: 'w1', jobId, qty: 1, bin: 'A1' }]);
    await insertLeadDay(tx, { receiptId: 'e1', orderId: 'o1', supplierId: 's1', days: 3, at });
    await insertShopEdit(tx, { id: 'x1', what: 'shop', supplierId: null, partId: null, body: '{}', by: null, at });
  });
  return store;
}

test.each(['orderEvent', 'arrivalShare', 'leadDay', 'shopEdit'])('a row of %s can be neither changed nor taken away', async (table) => {
  const filled = await fill();
  for (const statement of [`update "${table}" set at = 'x'`, `update "${table}" set bin = 'x'`, `delete from "${table}"`, `insert or replace into "${table}" select * from "${table}"`]) {
    await expect(filled.transact((tx) => sql.raw(statement).execute(tx)), statement).rejects.toThrow();
  }
  const { rows } = await sql<{ n: number }>`select count(*) as n from ${sql.table(table)}`.execute(filled.db);
  expect(rows).toEqual([{ n: 1 }]);
});

test('orders are numbered from 1, without a gap where one was not written after all', async () => {
  const filled = await fill();
  await expect(filled.transact(async (tx) => {
    expect((await insertOrder(tx, { id: 'o2', supplierId: 's1', state: 'draft' })).number).toBe(2);
    throw new Error('no');
  })).rejects.toThrow('no');
  expect(await filled.transact((tx) => insertOrder(tx, { id: 'o3', supplierId: 's1', state: 'draft' }))).toMatchObject({ number: 2 });
  expect((await listOrders(filled.db)).map(({ id }) => id)).toEqual(['o3', 'o1']);
  await expect(filled.transact((tx) => insertOrder(tx, { id: 'o4', supplierId: 'nobody', state: 'draft' }))).rejects.toThrow();
});

test('an order that came whole is remembered while a wish in it is short', async () => {
  const filled = await fill();
  expect(await listOvertakenOrders(filled.db)).toEqual(['o1']);
  await filled.transact((tx) => insertArrivalShares(tx, [{ receiptId: 'e1', lineId: 'l2', serveId: 'w1', jobId, qty: 1, bin: 'A1' }]));
  expect(await listOvertakenOrders(filled.db)).toEqual([]);
});

test('lines that were drafted one by one become a draft, with the jobs they are for and the answers they were given', async () => {
  const statements = readFileSync(new URL('./fixtures/20261125-2015-stock-moves.sql', import.meta.url), 'utf8');
  await new Promise<void>((resolve, reject) => {
    const db: sqlite3.Database = new sqlite3.Database(temporary.file, () => db.exec(statements, (error) => (error ? reject(error) : db.close(() => resolve()))));
  });
  store = await openStore(temporary.file);
  const [order, ...more] = await listOrders(store.db);
  expect([order, more]).toMatchObject([{ number: 1, supplierId: 'north', state: 'draft' }, []]);
  const events = (await listOrderEvents(store.db, [order!.id])).map(({ body }) => orderEvent.parse(JSON.parse(body)));
  const booked = bookOrderEvent(undefined, events[0]!);
  expect(booked).toMatchObject({ ok: true, book: { state: 'draft', terms: { currency: 'EUR', freight: 9.5, freeFreightFrom: 150, pricesWithTax: false }, lines: [{ qty: 1, unitPrice: 12.5, leadDays: 3 }, { qty: 2, serves: [{ jobId, qty: 2 }] }] } });
  const wish = await findOrderWish(store.db, '3b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a02');
  expect(wish).toMatchObject({ orderId: order!.id, jobId, qty: 2 });
  expect(orderLine.parse(JSON.parse(wish!.answer))).toMatchObject({ supplierId: 'north', qty: 2, arrives: '2026-11-28' });
  expect(await listSuppliers(store.db)).toEqual([{ id: 'north', ...plainSupplier, freight: 9.5, freeFreightFrom: 150 }]);
});
