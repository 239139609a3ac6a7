import { afterEach, beforeEach, expect, test } from 'vitest';
import { offerState, orderSummary, purchaseOrder, shopCard, supplierState } from '../../catalog-schema/index.ts';
import { makeUuid, openTestApp, type TestApp } from './open-test-app.ts';

let server: TestApp;
beforeEach(async () => { server = await openTestApp(); });
afterEach(async () => {
  expect(server.failures).toEqual([]);
  await server.close();
});

const at = '2026-11-25T09:00:00Z';
const draft = { id: makeUuid(1), supplierId: 's1', lines: [{ lineId: makeUuid(2), partId: 'p1', qty: 3 }], at };
const act = (n: number, more: object): object => ({ acts: [{ id: makeUuid(n), at, ...more }] });

test('an order goes its way over HTTP, and each answer is what the document says', async () => {
  expect((await server.post('/api/orders', draft)).status).toBe(201);
  const again = await server.post('/api/orders', draft);
  expect([again.status, purchaseOrder.parse(await again.json())]).toMatchObject([200, { number: 1, state: 'draft', sums: { total: 42.5 } }]);
  expect(orderSummary.array().parse(await (await server.get('/api/orders')).json())).toMatchObject([{ number: 1, lines: 1, total: 42.5 }]);
  const at1 = `/api/orders/${makeUuid(1)}/acts`;
  expect((await server.post(at1, act(10, { kind: 'sent' }))).status).toBe(409);
  expect((await server.post(at1, act(11, { kind: 'approved' }))).status).toBe(200);
  expect((await server.post(at1, act(12, { kind: 'sent' }))).status).toBe(200);
  const came = await server.post(at1, act(13, { kind: 'received', lines: [{ lineId: makeUuid(2), good: 2 }] }));
  expect([came.status, purchaseOrder.parse(await came.json())]).toMatchObject([200, { state: 'part-received', lines: [{ good: 2, open: 1 }] }]);
  const wrong = await server.post(at1, act(14, { kind: 'received', lines: [{ lineId: makeUuid(9), good: 2 }] }));
  expect([wrong.status, await wrong.json()]).toMatchObject([422, { faults: [{ path: 'acts[0].lines[0].lineId' }] }]);
  expect((await server.get('/api/orders/1')).status).toBe(200);
  expect((await server.get('/api/orders/7')).status).toBe(404);
  expect((await server.post(`/api/orders/${makeUuid(7)}/acts`, act(15, { kind: 'approved' }))).status).toBe(404);
  expect((await server.post('/api/orders', { ...draft, id: makeUuid(3), lines: [{ ...draft.lines[0], partId: 'p2' }] })).status).toBe(409);
});

test.each([
  ['pdf', 'application/pdf', /^%PDF-1\.7/, 'order-1-s1.pdf'], ['csv', 'text/csv; charset=utf-8', /^order,date/, 'order-1-s1.csv'], ['ubl', 'application/xml', /^<\?xml/, 'order-1-s1.xml'],
])('the order is downloaded as %s', async (form, type, begins, name) => {
  await server.post('/api/orders', draft);
  const response = await server.get(`/api/orders/1/document?as=${form}&paper=letter`);
  expect([response.status, response.headers.get('content-type'), response.headers.get('content-disposition')]).toEqual([200, type, `attachment; filename="${name}"`]);
  expect(Buffer.from(await response.arrayBuffer()).toString('latin1')).toMatch(begins);
  expect((await server.get('/api/orders/1/document?as=doc')).status).toBe(422);
  expect((await server.get('/api/orders/9/document?as=pdf')).status).toBe(404);
});

test('suppliers, offers and the shop\'s card are read and written', async () => {
  const added = await server.post('/api/suppliers', { id: makeUuid(1), supplier: { id: 's2', name: 'Two', freight: 1 }, at });
  expect([added.status, supplierState.parse(await added.json())]).toMatchObject([201, { supplier: { id: 's2' }, currency: 'EUR', offers: 0 }]);
  expect((await server.post('/api/suppliers', { id: makeUuid(2), supplier: { id: 's2', freight: 2 }, at })).status).toBe(200);
  expect(supplierState.array().parse(await (await server.get('/api/suppliers')).json())).toHaveLength(2);
  expect((await server.get('/api/suppliers/s2')).status).toBe(200);
  const offer = { supplierId: 's2', partId: 'p2', price: 3.25, leadDays: 1 };
  const written = await server.post('/api/suppliers/s2/offers', { id: makeUuid(3), partId: 'p2', offer, at });
  expect([written.status, offerState.array().parse(await written.json())]).toMatchObject([200, [{ offer, changed: { at } }]]);
  const back = await server.post('/api/suppliers/s2/offers', { id: makeUuid(4), partId: 'p2', offer: null, at });
  expect([back.status, await back.json()]).toEqual([200, []]);
  const falls = await server.post('/api/suppliers/s2/offers', { id: makeUuid(5), partId: 'p2', offer: { ...offer, breaks: [{ minQty: 5, price: 3 }, { minQty: 5, price: 2 }] }, at });
  expect([falls.status, await falls.json()]).toMatchObject([422, { faults: [{ path: 'offer.breaks[1].minQty' }] }]);
  expect((await server.get('/api/suppliers/nobody/offers')).status).toBe(404);
  const card = await server.post('/api/shop', { id: makeUuid(6), shop: { name: 'Bench', taxes: [{ id: 'a', words: 'A', percent: 7.7 }] }, at });
  expect([card.status, shopCard.parse(await card.json())]).toEqual([200, shopCard.parse(await (await server.get('/api/shop')).json())]);
  const twice = await server.post('/api/shop', { id: makeUuid(7), shop: { taxes: [{ id: 'a', words: 'A', percent: 1 }, { id: 'a', words: 'B', percent: 2 }] }, at });
  expect([twice.status, await twice.json()]).toMatchObject([422, { faults: [{ path: 'shop.taxes[1].id' }] }]);
});
