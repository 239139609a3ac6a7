import { afterAll, beforeAll, expect, test } from 'vitest';
import { stockAnswer, stockMove, stockRow } from '../../catalog-schema/index.ts';
import { makeUuid, openTestApp, type TestApp } from './open-test-app.ts';

let server: TestApp;
beforeAll(async () => { server = await openTestApp(); });
afterAll(() => server.close());

const at = '2026-11-25T09:00:00Z';
const move = (n: number, more: object): object => ({ id: makeUuid(n), partId: 'p1', bin: 'A1', qty: 1, at, ...more });
const read = async (path: string): Promise<unknown[]> => await (await server.get(path)).json() as unknown[];

test('moves are recorded together, answered with the rows they left, and the same batch again changes nothing', async () => {
  const batch = { moves: [move(1, { kind: 'in', qty: 3, unitCost: 13.3333, by: 'Ans' }), move(2, { kind: 'transfer', qty: 2, toBin: 'B7' })] };
  const first = await server.post('/api/stock/moves', batch);
  const answer = stockAnswer.parse(await first.json());
  expect([first.status, answer.rows.map(({ bin, onHand, unitCost }) => [bin, onHand, unitCost])]).toEqual([200, [['A1', 3, 12], ['B7', 2, 12]]]);
  expect(stockAnswer.parse(await (await server.post('/api/stock/moves', batch)).json()).moves).toEqual(answer.moves);
  expect(stockRow.array().parse(await read('/api/stock?partId=p1'))).toHaveLength(2);
  expect(stockRow.array().parse(await read('/api/stock?bin=B7'))).toMatchObject([{ partId: 'p1', free: 2, currency: 'EUR' }]);
  expect(await read('/api/stock?partId=p2')).toEqual([]);
});

test('what is not free is refused in words, and nothing of the batch is kept', async () => {
  const refused = await server.post('/api/stock/moves', { moves: [move(3, { kind: 'out' }), move(4, { kind: 'out', qty: 9 })] });
  expect([refused.status, await refused.json()]).toMatchObject([409, { detail: 'out: 9 of p1 in bin A1 asked for, 2 free (2 there, 0 put aside)' }]);
  expect(stockRow.array().parse(await read('/api/stock?bin=A1'))).toMatchObject([{ onHand: 3 }]);
});

test('moves are read in the order of the ledger, behind a place in it, or the newest first', async () => {
  const all = stockMove.array().parse(await read('/api/stock/moves'));
  expect(all.map(({ seq, kind }) => [seq, kind])).toEqual([[1, 'in'], [2, 'in'], [3, 'transfer']]);
  expect(stockMove.array().parse(await read('/api/stock/moves?after=1&most=1'))).toMatchObject([{ seq: 2, by: 'Ans', unitCost: 13.3333, currency: 'EUR' }]);
  expect(stockMove.array().parse(await read('/api/stock/moves?last=true&bin=B7'))).toMatchObject([{ kind: 'transfer' }]);
  expect(await read(`/api/stock/moves?jobId=${makeUuid(9)}`)).toEqual([]);
});

test.each([
  [{ kind: 'lost' }, 'moves[0].kind'], [{ kind: 'out', qty: 0 }, 'moves[0].qty'], [{ kind: 'out', qty: 1.5 }, 'moves[0].qty'], [{ kind: 'out', bin: ' A1' }, 'moves[0].bin'], [{ kind: 'transfer' }, 'moves[0].toBin'],
  [{ kind: 'in', toBin: 'B7' }, 'moves[0].toBin'], [{ kind: 'out', partId: 'nope' }, 'moves[0].partId'], [{ kind: 'reserve', reservationId: makeUuid(7) }, 'moves[0].jobId'], [{ kind: 'in', unitCost: -1 }, 'moves[0].unitCost'],
])('a move with %j is refused at its place', async (more, path) => {
  const refused = await server.post('/api/stock/moves', { moves: [move(20, more)] });
  expect([refused.status, (await refused.json() as { faults: { path: string }[] }).faults.map((fault) => fault.path)]).toEqual([422, [path]]);
});
