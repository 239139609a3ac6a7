import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { acceptedPlan, shopPlan, type JsonValue, type ShopPlan } from '../../../catalog-schema/index.ts';
import type { Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let services: Services;
let remove: () => Promise<void>;
let folder: string;
const AT = '2026-11-25T10:00:00Z';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-plan-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', waitCostPerDay: 5, suppliers: [{ id: 's1', freight: 6, freeFreightFrom: 60 }, { id: 's2', freight: 3 }],
    offers: [
      { supplierId: 's1', partId: 'p1', price: 20, leadDays: 1 }, { supplierId: 's2', partId: 'p1', price: 19, leadDays: 4 },
      { supplierId: 's1', partId: 'p2', price: 8, leadDays: 2 },
    ],
    shelf: [{ partId: 'p2', bin: 'B1', onHand: 1, unitCost: 7 }],
  }));
  writeFileSync(join(folder, 'demand.json'), JSON.stringify([{ partId: 'p2', daysAgo: 30, qty: 2 }, { partId: 'p2', daysAgo: 200, qty: 1 }, { partId: 'gone', daysAgo: 3, qty: 1 }]));
  ({ services, remove } = await openTestServices({ demoFolder: folder, clock: { now: () => new Date(2026, 10, 25, 10) } }));
});
afterAll(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

async function beginJob(n: number, document: Record<string, JsonValue>): Promise<void> {
  await services.jobs.create(makeJob(n));
  await services.jobs.append(makeId(n), Object.entries(document).map(([field, value], index) => (
    { id: makeId(n * 100 + index, 7), field: [field], base: index, value, at: AT })));
}

async function readPlan(withShelf = false): Promise<ShopPlan> {
  const outcome = await services.planning.current(withShelf);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusal));
  expect(shopPlan.parse(outcome.value)).toEqual(outcome.value);
  return outcome.value;
}

const accept = (plan: ShopPlan, more: object = {}) => services.planning.accept({ id: makeId(1, 9), hash: plan.hash, which: 'least', at: AT, ...more });

// One shop's day, in turn: what a test leaves behind the next one finds.

test('a job wants its chosen part until it is signed off, put aside or ordered; a job without a choice wants nothing', async () => {
  expect((await readPlan()).wants).toEqual([]);
  await services.jobs.create(makeJob(9));
  await beginJob(1, { chosen: { partId: 'p1', plan: null }, get: { by: '2026-11-26', qty: 2 } });
  await beginJob(2, { chosen: { partId: 'p2', plan: null } });
  const plan = await readPlan();
  expect(plan.wants).toMatchObject([{ jobId: makeId(2), partId: 'p2', qty: 1, by: '2026-11-25' }, { jobId: makeId(1), partId: 'p1', qty: 2, by: '2026-11-26' }]);
  // p1: two at 20 and 6 freight tomorrow, or two at 19 and 3 freight three days late at 5 a day. p2 lies there at 7.
  expect(plan.answer).toMatchObject({ status: 'optimal', total: 53, fills: [{ from: 'shelf' }, { from: 's1', daysLate: 0 }] });
  await services.shelf.reserve({ id: makeId(5, 3), partId: 'p2', qty: 1, jobId: makeId(2), at: AT });
  expect((await readPlan()).wants.map(({ jobId }) => jobId)).toEqual([makeId(1)]);
});

test('a plan is not taken once anything it stood on has changed, and nothing of it is booked', async () => {
  const plan = await readPlan();
  await services.shelf.release(makeId(5, 3));
  expect(await accept(plan)).toMatchObject({ ok: false, refusal: { kind: 'conflict' } });
  expect(await services.orders.lines(makeId(1))).toEqual([]);
});

test('a plan that is taken drafts its orders for its jobs and puts its units aside; then nothing is wanted any more', async () => {
  const taken = await accept(await readPlan());
  expect(taken).toMatchObject({ ok: true, value: { orders: [{ id: makeId(1, 9), supplierId: 's1', lines: 1 }], putAside: [{ jobId: makeId(2), partId: 'p2', bin: 'B1' }] } });
  expect(acceptedPlan.safeParse(taken.ok && taken.value).success).toBe(true);
  expect(await services.shelf.reservations(makeId(2))).toMatchObject([{ partId: 'p2', qty: 1 }]);
  expect(await services.orders.lines(makeId(1))).toMatchObject([{ partId: 'p1', qty: 2, supplierId: 's1' }]);
  expect((await readPlan()).wants).toEqual([]);
});

test('another plan beside the least one can be taken, where there is one', async () => {
  await beginJob(3, { chosen: { partId: 'p1', plan: null }, get: { by: '2026-12-24' } });
  const plan = await readPlan();
  expect(plan.answer).toMatchObject({ total: 22, others: [{ which: 'shelf-only', plan: null }, { which: 'fastest', more: 4 }, { which: 'fewest-orders', more: 0 }] });
  expect(await accept(plan, { id: makeId(2, 9), which: 'shelf-only' })).toMatchObject({ refusal: { kind: 'conflict' } });
  expect(await accept(plan, { id: makeId(3, 9), which: 'fastest' })).toMatchObject({ value: { orders: [{ supplierId: 's1' }] } });
});

test('the shelf\'s own list comes from what was wanted, and is planned with the jobs when asked for', async () => {
  const list = await services.reorder.current();
  expect(list.rows.map(({ partId }) => partId)).toEqual(['p2']);
  expect(list.rows[0]!.order).toBeGreaterThan(0);
  const plan = await readPlan(true);
  expect(plan.wants).toMatchObject([{ id: 'shelf:p2', qty: list.rows[0]!.order }]);
  expect(plan.answer.fills).toMatchObject([{ needId: 'shelf:p2', from: 's1' }]);
  expect(await accept(plan, { id: makeId(4, 9), shelf: true })).toMatchObject({ ok: true, value: { putAside: [] } });
  expect((await services.reorder.current()).rows[0]).toMatchObject({ order: 0 });
});
