import { anything, asyncProperty, assert, constantFrom, integer, jsonValue, oneof, string, tuple } from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { benchRecord, makeRelay, makeUuid, openTestApp, type TestApp } from './open-test-app.ts';

let server: TestApp;
beforeAll(async () => {
  server = await openTestApp();
  await server.post('/api/jobs', { id: makeUuid(1), title: 'Job', record: benchRecord, at });
  await server.post('/api/orders', { id: makeUuid(90), supplierId: 's1', lines: [{ lineId: makeUuid(91), partId: 'p1', qty: 500 }], at });
  await server.post(`/api/orders/${makeUuid(90)}/acts`, { acts: [{ id: makeUuid(92), kind: 'approved', at }, { id: makeUuid(93), kind: 'sent', at }] });
});
afterAll(() => server.close());

const at = '2026-11-25T09:00:00Z';
const REQUESTS: [string, unknown][] = [
  ['/api/identify', benchRecord],
  ['/api/fit', { record: benchRecord, all: true, prices: { currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [{ id: 's', freight: 1 }], offers: [{ supplierId: 's', partId: 'p1', price: 2, leadDays: 1 }] } }],
  ['/api/rewire', { record: benchRecord, part: makeRelay('p9') }],
  ['/api/jobs', { id: makeUuid(20), title: 'Another', machine: 'Pump', record: benchRecord, at }],
  [`/api/jobs/${makeUuid(1)}/edits`, { edits: [{ id: makeUuid(30), field: ['record', 'wires', 'W1'], value: { wasOn: 'B', leadsTo: 'battery' }, base: 2, author: 'x', at }] }],
  ['/api/shelf/reservations', { id: makeUuid(40), partId: 'p1', qty: 1, jobId: makeUuid(1), at }],
  ['/api/stock/moves', { moves: [{ id: makeUuid(41), kind: 'transfer', partId: 'p1', bin: 'A1', qty: 1, toBin: 'A2', reason: 'r', unitCost: 2, by: 'x', at }, { id: makeUuid(42), kind: 'reserve', partId: 'p1', bin: 'A1', qty: 1, jobId: makeUuid(1), reservationId: makeUuid(43), at }] }],
  ['/api/outcomes', { id: makeUuid(60), partId: 'p1', jobId: makeUuid(1), result: 'came-back', reason: 'failed', words: 'w', by: 'x', at }],
  ['/api/orders/lines', { id: makeUuid(50), partId: 'p1', qty: 1, jobId: makeUuid(1), at }],
  ['/api/orders', { id: makeUuid(51), supplierId: 's1', lines: [{ lineId: makeUuid(52), partId: 'p1', qty: 1, serves: [{ id: makeUuid(53), jobId: makeUuid(1), qty: 1, needId: 'n' }] }], by: 'x', at }],
  ['/api/orders/00000000-0000-4000-8000-000000000090/acts', { acts: [
    { kind: 'received', id: makeUuid(54), lines: [{ lineId: makeUuid(91), good: 1, wrong: 1, damaged: 1, bin: 'A1' }], words: 'w', at },
    { kind: 'returned', id: makeUuid(55), lineId: makeUuid(91), qty: 1, reason: 'wrong-fit', jobId: makeUuid(1), why: 'failed', words: 'w', at },
    { kind: 'credited', id: makeUuid(56), returnId: makeUuid(55), amount: 3.5, at }, { kind: 'promised', id: makeUuid(57), lineId: makeUuid(91), on: '2026-12-01', at }] }],
  ['/api/suppliers', { id: makeUuid(58), supplier: { id: 's2', name: 'N', contact: 'c', account: 'a', freight: 1, freeFreightFrom: 2, minOrder: 3, currency: 'JPY', rate: 0.01, pricesWithTax: true, calendar: { cutOff: '15:00', workDays: [1], holidays: ['2026-12-25'] } }, by: 'x', at }],
  ['/api/suppliers/s1/offers', { id: makeUuid(59), partId: 'p1', offer: { supplierId: 's1', partId: 'p1', price: 12.5, breaks: [{ minQty: 5, price: 11 }], leadDays: 3, pack: 1, minQty: 1, validUntil: '2027-01-01', coreCharge: 1, inStock: 9 }, at }],
  ['/api/shop', { id: makeUuid(61), shop: { name: 'n', contact: 'c', taxes: [{ id: 'vat', words: 'VAT', percent: 20 }] }, at }],
];

/** Every place of a value, as the steps that lead to it. */
function listPlaces(value: unknown, steps: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [steps];
  const entries: [string | number, unknown][] = Array.isArray(value) ? value.map((entry, index) => [index, entry]) : Object.entries(value);
  return [steps, ...entries.flatMap(([step, inner]) => listPlaces(inner, [...steps, step]))];
}

function replaceAt(value: unknown, [step, ...rest]: readonly (string | number)[], replacement: unknown): unknown {
  if (step === undefined) return replacement;
  const copy = (Array.isArray(value) ? [...value as unknown[]] : { ...value as object }) as Record<string | number, unknown>;
  copy[step] = replaceAt(copy[step], rest, replacement);
  return copy;
}

const strange = oneof(
  jsonValue(), anything({ withNullPrototype: false, maxDepth: 2, values: [string({ unit: 'binary' })] }),
  constantFrom<unknown>(-1, 0, 0.5, 1e300, -1e300, 2 ** 53, 5e-324, '', ' ', '\0', '\uD800', '__proto__', 'case', 'chassis', 'constructor', '9999-12-31T23:59:59Z', makeUuid(1), [], {}, null),
);

test.each(REQUESTS)('%s answers or refuses whatever stands in any one place, and never fails', async (path, body) => {
  server.failures.length = 0;
  const places = listPlaces(body);
  await assert(asyncProperty(tuple(integer({ min: 0, max: places.length - 1 }), strange), async ([place, replacement]) => {
    const text = JSON.stringify(replaceAt(body, places[place]!, replacement)) ?? 'null';
    const response = await server.post(path, text);
    await response.arrayBuffer();
    expect([200, 201, 404, 409, 422], text).toContain(response.status);
  }), { numRuns: 150, seed: 11 });
  expect(server.failures).toEqual([]);
});

test('whatever was let in can be read back', async () => {
  for (const path of ['/api/jobs', '/api/shelf', '/api/shelf/reservations', '/api/stock', '/api/stock/moves', '/api/orders/lines', '/api/orders', '/api/orders/1', '/api/orders/1/document?as=pdf', '/api/orders/1/document?as=ubl', '/api/suppliers', '/api/suppliers/s1/offers', '/api/shop', '/api/outcomes', '/api/outcomes/history', '/api/prices', '/api/catalogue']) {
    expect((await server.get(path)).status, path).toBe(200);
  }
});
