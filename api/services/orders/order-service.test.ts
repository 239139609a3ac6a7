import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { orderLine, type OrderLineRequest } from '../../../catalog-schema/index.ts';
import type { Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let services: Services;
let remove: () => Promise<void>;
let folder: string;
let now: Date;

beforeEach(async () => {
  now = new Date(2026, 11, 30, 23, 59);
  folder = mkdtempSync(join(tmpdir(), 'lugwright-orders-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'CHF', shelf: [], suppliers: [{ id: 's1', freight: 5 }, { id: 's2', freight: 0 }],
    offers: [
      { supplierId: 's1', partId: 'p1', price: 9.5, leadDays: 3, pack: 2, validUntil: '2026-12-30' },
      { supplierId: 's2', partId: 'p1', price: 12, leadDays: 1, inStock: 5 },
    ],
  }));
  ({ services, remove } = await openTestServices({ demoFolder: folder, clock: { now: () => now } }));
});
afterEach(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

const ask = (n: number, more: Partial<OrderLineRequest> = {}): OrderLineRequest => ({ id: makeId(n, 4), partId: 'p1', qty: 2, at: '2026-12-30T10:00:00Z', ...more });

test('a line says what is ordered where, for how much, and when it comes, over the year’s end too', async () => {
  const outcome = await services.orders.draft(ask(1));
  expect(outcome).toEqual({ ok: true, value: { created: true, line: {
    ...ask(1), supplierId: 's1', unitPrice: 9.5, currency: 'CHF', arrives: '2027-01-02', orderId: expect.any(String) as string, orderNumber: 1, state: 'draft',
  } } });
  expect((await services.orders.lines()).map((line) => orderLine.parse(line))).toHaveLength(1);
});

test('a minute later the offer no longer stands, and the other one is taken', async () => {
  now = new Date(2026, 11, 31, 0, 0);
  expect(await services.orders.draft(ask(1))).toMatchObject({ value: { line: { supplierId: 's2', arrives: '2027-01-01' } } });
});

test('the same request again drafts nothing more, even when prices have changed since', async () => {
  const first = await services.orders.draft(ask(1));
  now = new Date(2026, 11, 31);
  expect(await services.orders.draft(ask(1))).toEqual({ ok: true, value: { created: false, line: first.ok && first.value.line } });
  expect(await services.orders.lines()).toHaveLength(1);
});

test('lines of one job are found by it, and a withdrawn line is gone', async () => {
  await services.jobs.create(makeJob(1));
  await services.orders.draft(ask(1, { jobId: makeId(1) }));
  await services.orders.draft(ask(2));
  expect((await services.orders.lines(makeId(1))).map((line) => line.id)).toEqual([makeId(1, 4)]);
  expect((await services.orders.withdraw(makeId(1, 4))).ok).toBe(true);
  expect(await services.orders.withdraw(makeId(1, 4))).toMatchObject({ refusal: { kind: 'not-found' } });
  expect(await services.orders.lines(makeId(1))).toEqual([]);
});

test('nobody offers it, nobody has so many, no such part, no such job, past all use: each says so', async () => {
  now = new Date(2026, 11, 31);
  expect(await services.orders.draft(ask(1, { partId: 'p2' }))).toMatchObject({ refusal: { kind: 'conflict', why: expect.stringContaining('2 of p2') as string } });
  expect(await services.orders.draft(ask(1, { qty: 6 }))).toMatchObject({ refusal: { kind: 'conflict' } });
  expect(await services.orders.draft(ask(1, { partId: 'nope' }))).toMatchObject({ refusal: { faults: [{ path: 'partId' }] } });
  expect(await services.orders.draft(ask(1, { jobId: makeId(9) }))).toMatchObject({ refusal: { faults: [{ path: 'jobId' }] } });
  expect(await services.orders.draft(ask(1, { qty: Number.MAX_SAFE_INTEGER }))).toMatchObject({ refusal: { faults: [{ path: 'qty' }] } });
  expect(await services.orders.lines()).toEqual([]);
});
