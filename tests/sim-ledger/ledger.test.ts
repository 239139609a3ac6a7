import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { StockRow } from '../../catalog-schema/index.ts';
import { startServer, type RunningServer } from '../server-kill/running-server.ts';
import { makeShop, runLedger } from './run-ledger.ts';

const CLIENTS = 50;
const at = '2026-11-25T10:00:00Z';
let shop: ReturnType<typeof makeShop>;
let server: RunningServer;
beforeAll(async () => {
  shop = makeShop(2);
  server = await startServer(shop.env);
});
afterAll(async () => {
  await server.stop();
  shop.remove();
});

const post = (path: string, body: unknown): Promise<Response> => fetch(`${server.url}${path}`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });

// A small fixed sample of what `npm run sim:ledger` does 10,000 times.
test('random moves with kills amid them add up to the stock, and none is lost, doubled or taken from nothing', { timeout: 120_000 }, async () => {
  const figures = await runLedger({ operations: 150, kills: 1, seed: 11 });
  expect(figures.wrong).toEqual([]);
  expect(figures).toMatchObject({ operations: 150, kills: 1 });
  // The run has met what it is about.
  expect(figures.resent).toBeGreaterThan(0);
  expect(figures.refused).toBeGreaterThan(10);
  expect(figures.moves).toBeGreaterThan(100);
});

test.each([
  ['selling over the counter', (id: string, bin: string) => post('/api/shelf/reservations', { id, partId: bin === 'A1' ? 'relay-a' : 'relay-b', qty: 1, at }), 8],
  ['taking out of one bin', (id: string) => post('/api/stock/moves', { moves: [{ id, kind: 'out', partId: 'starter-a', bin: 'A1', qty: 1, at }] }), 2],
  ['moving to another bin, two at a time', (id: string) => post('/api/stock/moves', { moves: [{ id, kind: 'transfer', partId: 'starter-b', bin: 'A1', toBin: 'X9', qty: 2, at }] }), 1],
] as const)(`${CLIENTS} clients at once, %s, get what there is and not one unit more`, async (_, ask, wanted) => {
  const answers = await Promise.all(Array.from({ length: CLIENTS }, async () => (await ask(randomUUID(), 'A1')).status));
  expect(answers.filter((status) => status < 300)).toHaveLength(wanted);
  expect(answers.filter((status) => status === 409)).toHaveLength(CLIENTS - wanted);
  const rows = await (await fetch(`${server.url}/api/stock`)).json() as StockRow[];
  expect(rows.filter((row) => row.onHand < 0 || row.free < 0 || row.below)).toEqual([]);
});

test(`${CLIENTS} clients that put the same last units aside for jobs, each asking twice, never oversell`, async () => {
  const jobs = Array.from({ length: CLIENTS }, () => randomUUID());
  for (const id of jobs) expect((await post('/api/jobs', { id, title: 'Pump', record: { system: { nominalV: 12 } }, at })).status).toBe(201);
  const answers = await Promise.all(jobs.flatMap((jobId) => {
    const body = { id: randomUUID(), partId: 'relay-c', qty: 1, jobId, at };
    return [post('/api/shelf/reservations', body), post('/api/shelf/reservations', body)];
  }).map(async (asked) => (await asked).status));
  const rows = (await (await fetch(`${server.url}/api/stock?partId=relay-c`)).json() as StockRow[]);
  expect(rows.map(({ onHand, reserved, free }) => [onHand, reserved, free])).toEqual([[2, 2, 0], [2, 2, 0], [2, 2, 0], [2, 2, 0]]);
  expect(answers.filter((status) => status === 201)).toHaveLength(8);
  expect(answers.filter((status) => status === 200 || status === 201)).toHaveLength(16);
});
