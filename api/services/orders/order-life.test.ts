import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { purchaseOrder, type NewOrder, type OrderAct, type PurchaseOrder } from '../../../catalog-schema/index.ts';
import { openServices, type Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let services: Services;
let remove: () => Promise<void>;
let folder: string;
let file: string;
let now: Date;

beforeEach(async () => {
  now = new Date(2026, 10, 25, 9);
  folder = mkdtempSync(join(tmpdir(), 'lugwright-order-life-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', name: 'Bench', taxes: [{ id: 'vat', words: 'VAT 20 %', percent: 20 }],
    shelf: [{ partId: 'p1', bin: 'B1', onHand: 0, unitCost: 8 }],
    suppliers: [
      { id: 's1', name: 'Ebb', freight: 5, freeFreightFrom: 100, tax: 'vat', calendar: { cutOff: '15:00', workDays: [1, 2, 3, 4, 5], holidays: ['2026-11-27'] } },
      { id: 's2', name: 'Far', freight: 1000, currency: 'JPY', rate: 0.0061 },
      { id: 's3', freight: 1, currency: 'KWD' },
    ],
    offers: [
      { supplierId: 's1', partId: 'p1', price: 9.5, leadDays: 2, breaks: [{ minQty: 10, price: 8 }], coreCharge: 2 },
      { supplierId: 's1', partId: 'p2', price: 0.0125, leadDays: 2 },
      { supplierId: 's2', partId: 'p2', price: 1500, leadDays: 9 },
      { supplierId: 's3', partId: 'p2', price: 0.5, leadDays: 1 },
    ],
  }));
  ({ services, remove, file } = await openTestServices({ demoFolder: folder, clock: { now: () => now } }));
  for (const n of [1, 2, 3]) await services.jobs.create(makeJob(n));
});
afterEach(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

let counted = 0;
type Deed = OrderAct extends infer Each ? (Each extends OrderAct ? Omit<Each, 'id' | 'at'> : never) : never;
const act = (deed: Deed): OrderAct => ({ ...deed, id: makeId(++counted, 9), at: now.toISOString() }) as OrderAct;
const draftOf = (n: number, more: Partial<NewOrder> = {}): NewOrder => ({
  id: makeId(n, 5), supplierId: 's1', at: now.toISOString(),
  lines: [{ lineId: makeId(n, 6), partId: 'p1', qty: 3, serves: [{ id: makeId(n, 7), jobId: makeId(n), qty: 1 }, { qty: 2 }] }], ...more,
});
async function draft(n: number, more: Partial<NewOrder> = {}): Promise<PurchaseOrder> {
  const drafted = await services.orders.draftOrder(draftOf(n, more));
  if (!drafted.ok) throw new Error(JSON.stringify(drafted.refusal));
  return drafted.value.order;
}
async function take(orderId: string, ...deeds: Deed[]): Promise<PurchaseOrder> {
  const taken = await services.orders.act(orderId, deeds.map(act));
  if (!taken.ok) throw new Error(JSON.stringify(taken.refusal));
  return purchaseOrder.parse(taken.value);
}
const send = async (n: number, more: Partial<NewOrder> = {}): Promise<PurchaseOrder> => take((await draft(n, more)).id, { kind: 'approved' }, { kind: 'sent', how: 'by mail' });
const came = (n: number, good: number, more: { wrong?: number; damaged?: number; bin?: string } = {}): Deed => ({ kind: 'received', lines: [{ lineId: makeId(n, 6), good, ...more }] });
const heldFor = async (n: number): Promise<number> => (await services.shelf.reservations(makeId(n))).reduce((sum, { qty }) => sum + qty, 0);
const stockOf = async (partId: string): Promise<number[]> => (await services.shelf.list()).filter((row) => row.partId === partId).map(({ onHand, reserved }) => [onHand, reserved]).flat();

test('an order is drafted from standing offers, with taxes, freight and the day it comes by the supplier\'s calendar', async () => {
  const order = await draft(1);
  // Sent on Wednesday before the cut-off; Friday is a holiday: two working days later is Monday.
  expect(purchaseOrder.parse(order)).toMatchObject({
    number: 1, supplierName: 'Ebb', state: 'draft', currency: 'EUR', arrives: '2026-11-30', daysLate: 0,
    sums: { goods: 28.5, freight: 5, tax: 6.7, total: 40.2, cores: 6, short: 0, toFreeFreight: 71.5, taxes: [{ id: 'vat', base: 33.5, amount: 6.7 }] },
    lines: [{ partId: 'p1', qty: 3, unitPrice: 9.5, good: 0, open: 3, serves: [{ jobId: makeId(1), title: 'Job 1', qty: 1, got: 0 }, { jobId: null, evidence: null }] }],
  });
  expect(order.lines[0]!.serves[0]!.evidence).toMatchObject({ proven: null, settles: expect.stringMatching(/studs of the relay/) as string });
  now = new Date(2026, 10, 25, 15, 0);
  expect((await draft(2)).arrives).toBe('2026-12-01');
  expect((await services.orders.list()).map(({ number, jobs, total }) => [number, jobs, total])).toEqual([[2, 1, 40.2], [1, 1, 40.2]]);
});

test('the same draft and the same act again change nothing', async () => {
  const once = await draft(1);
  expect(await services.orders.draftOrder(draftOf(1, { lines: [] as never }))).toMatchObject({ value: { created: false, order: { id: once.id, lines: [{ qty: 3 }] } } });
  const approve = act({ kind: 'approved' });
  for (const _ of [1, 2]) expect(await services.orders.act(once.id, [approve])).toMatchObject({ value: { state: 'approved' } });
  const sent = [act({ kind: 'sent' }), act(came(1, 1))];
  for (const _ of [1, 2, 3]) expect(await services.orders.act(once.id, sent)).toMatchObject({ value: { state: 'part-received' } });
  expect(await stockOf('p1')).toEqual([1, 1]);
  const other = await draft(2);
  expect(await services.orders.act(other.id, [approve])).toMatchObject({ refusal: { faults: [{ path: 'acts[0].id' }] } });
});

test('acts are taken all or none', async () => {
  const order = await draft(1);
  expect(await services.orders.act(order.id, [act({ kind: 'approved' }), act({ kind: 'sent' }), act(came(9, 1))])).toMatchObject({ refusal: { faults: [{ path: 'acts[2].lines[0].lineId' }] } });
  expect(await services.orders.read('1')).toMatchObject({ value: { state: 'draft' } });
  expect(await services.orders.act(order.id, [act({ kind: 'sent' })])).toMatchObject({ refusal: { kind: 'conflict', why: expect.stringMatching(/approved first/) as string } });
  expect(await services.orders.act(makeId(77), [act({ kind: 'approved' })])).toMatchObject({ refusal: { kind: 'not-found' } });
});

test('a quantity set anew takes the price of its break, and is to be approved again', async () => {
  const order = await take((await draft(1)).id, { kind: 'approved' });
  const changed = await take(order.id, { kind: 'changed', lines: [{ lineId: makeId(1, 6), qty: 12 }] });
  expect(changed).toMatchObject({ state: 'draft', lines: [{ qty: 12, unitPrice: 8 }], sums: { goods: 96 } });
  expect((await take(order.id, { kind: 'changed', lines: [{ lineId: makeId(1, 6), qty: 0 }] })).lines).toEqual([]);
});

test('what came in part goes to the job that waits, and the rest is a back-order', async () => {
  const order = await send(1);
  now = new Date(2026, 10, 30, 10);
  const part = await take(order.id, came(1, 1));
  expect(part).toMatchObject({ state: 'part-received', lines: [{ good: 1, open: 2, serves: [{ got: 1 }, { got: 0 }] }], receipts: [{ days: 2 }] });
  expect([await heldFor(1), await stockOf('p1')]).toEqual([1, [1, 1]]);
  now = new Date(2026, 11, 4, 10);
  expect(await services.orders.read('1')).toMatchObject({ value: { daysLate: 4 } });
  expect(await take(order.id, { kind: 'promised', on: '2026-12-09' })).toMatchObject({ arrives: '2026-12-09', daysLate: 0, lines: [{ promised: true }] });
  expect(await take(order.id, came(1, 3, { damaged: 1 }))).toMatchObject({ state: 'received', lines: [{ good: 4, over: 1, damaged: 1, open: 0 }], receipts: [{ days: 2 }, { days: 6 }] });
  expect(await stockOf('p1')).toEqual([4, 1]);
  expect((await services.suppliers.list())[0]!.lead).toMatchObject({ days: [2, 6] });
});

test('units go to the job that wants them first, then to the one that has waited longest, whoever\'s order they were', async () => {
  await services.jobs.append(makeId(3), [{ id: makeId(1, 30), field: ['get'], value: { by: '2026-12-01' }, base: 3, at: now.toISOString() }]);
  for (const n of [1, 2, 3]) {
    now = new Date(2026, 10, 25, 9, n);
    await send(n, { lines: [{ lineId: makeId(n, 6), partId: 'p1', qty: 1, serves: [{ id: makeId(n, 7), jobId: makeId(n), qty: 1 }] }] });
  }
  await take(makeId(2, 5), came(2, 1));
  expect([await heldFor(1), await heldFor(2), await heldFor(3)]).toEqual([0, 0, 1]);
  await take(makeId(3, 5), came(3, 1));
  expect([await heldFor(1), await heldFor(2), await heldFor(3)]).toEqual([1, 0, 1]);
  // Its own order came long ago: the job waits on all the same.
  await take(makeId(1, 5), came(1, 2));
  expect([await heldFor(1), await heldFor(2), await heldFor(3)]).toEqual([1, 1, 1]);
  expect(await stockOf('p1')).toEqual([4, 3]);
});

test('two lines of one part in one receipt do not give a job its units twice', async () => {
  const lines = [1, 2].map((n) => ({ lineId: makeId(n, 6), partId: 'p1', qty: 2, ...(n === 1 ? { serves: [{ jobId: makeId(1), qty: 1 }] } : {}) }));
  const order = await send(1, { lines });
  await take(order.id, { kind: 'received', lines: lines.map(({ lineId }) => ({ lineId, good: 2 })) });
  expect([await heldFor(1), await stockOf('p1')]).toEqual([1, [4, 1]]);
});

test('goods without a bin of their own go where the person says, else to the arrivals', async () => {
  const order = await send(1, { lines: [{ lineId: makeId(1, 6), partId: 'p2', qty: 4 }] });
  await take(order.id, came(1, 1, { bin: 'C3' }));
  await take(order.id, came(1, 1));
  expect((await services.shelf.list()).filter((row) => row.partId === 'p2')).toMatchObject([{ bin: 'C3', onHand: 2, unitCost: 0.0125 }]);
});

test('a wrong fit sent back leaves the shelf, is owed, and counts against that part on that machine', async () => {
  const order = await send(1);
  await take(order.id, came(1, 3));
  expect(await stockOf('p1')).toEqual([3, 1]);
  const back = act({ kind: 'returned', lineId: makeId(1, 6), qty: 1, reason: 'wrong-fit', jobId: makeId(1), words: 'bolts 4 mm apart' });
  for (const _ of [1, 2]) await services.orders.act(order.id, [back]);
  expect([await heldFor(1), await stockOf('p1')]).toEqual([0, [2, 0]]);
  expect(await services.outcomes.history()).toEqual([{ partId: 'p1', machineKind: 'hedge shredder', held: 0, cameBack: 1 }]);
  // 9.50 with 20 % and the core charge
  const owed = await take(order.id, { kind: 'returned', lineId: makeId(1, 6), qty: 2, reason: 'core' });
  expect(owed.returns.map(({ reason, credit, credited }) => [reason, credit, credited])).toEqual([['wrong-fit', 13.4, null], ['core', 4, null]]);
  expect((await take(order.id, { kind: 'credited', returnId: back.id, amount: 13.4 })).returns[0]).toMatchObject({ credited: 13.4 });
  expect((await services.orders.list())[0]).toMatchObject({ creditsOpen: 1 });
  expect(await services.orders.act(order.id, [act({ kind: 'returned', lineId: makeId(1, 6), qty: 1, reason: 'not-needed' }), act({ kind: 'returned', lineId: makeId(1, 6), qty: 2, reason: 'not-needed' })]))
    .toMatchObject({ refusal: { faults: [{ path: 'acts[1].qty' }] } });
  expect(await stockOf('p1')).toEqual([2, 0]);
});

test('wishes of several jobs for one part share a line of the draft, and its price', async () => {
  for (const n of [1, 2]) await services.orders.draft({ id: makeId(n, 4), partId: 'p1', qty: 5, jobId: makeId(n), at: now.toISOString() });
  const [order] = await services.orders.list();
  expect(await services.orders.read(order!.id)).toMatchObject({ value: { lines: [{ qty: 10, unitPrice: 8, serves: [{ jobId: makeId(1) }, { jobId: makeId(2) }] }] } });
  expect((await services.orders.lines(makeId(2)))).toMatchObject([{ id: makeId(2, 4), qty: 5, orderNumber: 1 }]);
  await services.orders.withdraw(makeId(1, 4));
  expect(await services.orders.read(order!.id)).toMatchObject({ value: { lines: [{ qty: 5, unitPrice: 9.5 }] } });
  await take(order!.id, { kind: 'approved' }, { kind: 'sent' });
  expect(await services.orders.withdraw(makeId(2, 4))).toMatchObject({ refusal: { kind: 'conflict' } });
});

test('an order in yen has no decimals, and is reckoned with in euros at the shop\'s rate', async () => {
  const order = await send(1, { supplierId: 's2', lines: [{ lineId: makeId(1, 6), partId: 'p2', qty: 2 }] });
  expect(order).toMatchObject({ currency: 'JPY', sums: { goods: 3000, freight: 1000, total: 4000 } });
  const prices = await services.prices.current();
  expect(prices.offers.filter(({ partId }) => partId === 'p2').map(({ supplierId, price }) => [supplierId, price])).toEqual([['s1', 0.0125], ['s2', 9.15]]);
  expect(prices.suppliers.map(({ id, freight }) => [id, freight])).toEqual([['s1', 5], ['s2', 6.1]]);
  expect((await services.suppliers.list()).map(({ counted }) => counted)).toEqual([true, true, false]);
  await take(order.id, came(1, 2, { bin: 'D1' }));
  expect((await services.shelf.list()).find((row) => row.bin === 'D1')).toMatchObject({ unitCost: 9.15 });
});

test('what was ordered outlives the server', async () => {
  const order = await send(1);
  await take(order.id, came(1, 1));
  const before = await services.orders.read(order.id);
  const again = await openServices({ file, clock: { now: () => now } });
  expect(await again.orders.read(order.id)).toEqual(before);
  await again.close();
});

test('a job that is signed off waits for nothing', async () => {
  const unchecked = await openServices({ file, clock: { now: () => now }, checks: {} });
  await unchecked.jobs.append(makeId(1), [{ id: makeId(1, 31), field: ['signedOff'], value: { at: now.toISOString(), by: 'Ans' }, base: 3, at: now.toISOString() }]);
  await unchecked.close();
  const order = await send(1);
  await take(order.id, came(1, 3));
  expect([await heldFor(1), await stockOf('p1')]).toEqual([0, [3, 0]]);
});
