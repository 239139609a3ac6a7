import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { stockAnswer, stockMove, stockRow, type StockMoveRequest } from '../../../catalog-schema/index.ts';
import { listDemand, openStore } from '../../store/index.ts';
import type { Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let services: Services;
let remove: () => Promise<void>;
let file: string;
let folder: string;
let next = 0;

beforeEach(async () => {
  next = 100;
  folder = mkdtempSync(join(tmpdir(), 'lugwright-shop-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', suppliers: [], offers: [], shelf: [{ partId: 'p1', bin: 'A1', onHand: 6, reserved: 1, unitCost: 10 }],
  }));
  ({ services, remove, file } = await openTestServices({ demoFolder: folder }));
  await services.jobs.create(makeJob(1));
});
afterEach(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

const at = '2026-11-25T10:00:00Z';
const move = (kind: StockMoveRequest['kind'], qty: number, more: Partial<StockMoveRequest> = {}): StockMoveRequest => ({ id: makeId(next++, 5), kind, partId: 'p1', bin: 'A1', qty, at, ...more });
const record = (...moves: StockMoveRequest[]) => services.shelf.record(moves, 'Ans');
const rows = async () => (await services.shelf.rows()).map(({ bin, onHand, reserved, free, unitCost, below }) => [bin, onHand, reserved, free, unitCost, ...(below ? ['below'] : [])]);

test('each kind of move does what its name says, and is kept with who made it', async () => {
  const answer = await record(
    move('in', 4, { unitCost: 10 }), move('out', 2), move('return', 1), move('scrap', 1, { reason: 'cracked' }), move('reserve', 2, { jobId: makeId(1) }),
    move('transfer', 3, { toBin: 'C4' }), move('release', 1),
  );
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  expect(stockAnswer.parse(answer.value)).toEqual(answer.value);
  expect(await rows()).toEqual([['A1', 5, 2, 3, 10], ['C4', 3, 0, 3, 10]]);
  const kept = await services.shelf.moves({ last: true, most: 4 });
  expect(kept.map(({ kind, by, reason }) => [kind, by, reason])).toEqual([['release', 'Ans', undefined], ['transfer', 'Ans', undefined], ['reserve', 'Ans', undefined], ['scrap', 'Ans', 'cracked']]);
  expect(kept.map((each) => stockMove.parse(each))).toEqual(kept);
  expect((await services.shelf.rows()).map((each) => stockRow.parse(each))).toHaveLength(2);
});

test.each([
  ['out', {}, 'out: 6 of p1 in bin A1 asked for, 5 free (6 there, 1 put aside)'], ['scrap', {}, 'scrap: 6 of'], ['reserve', { jobId: makeId(1) }, 'reserve: 6 of'], ['transfer', { toBin: 'B1' }, 'transfer: 6 of'],
] as const)('%s takes what is free and not one more', async (kind, more, why) => {
  expect(await record(move(kind, 6, more))).toMatchObject({ ok: false, refusal: { kind: 'conflict', why: expect.stringContaining(why) as string } });
  expect((await record(move(kind, 5, more))).ok).toBe(true);
});

test('one move that cannot be leaves all of its batch unrecorded', async () => {
  expect((await record(move('out', 2), move('in', 1, { unitCost: 3 }), move('out', 9))).ok).toBe(false);
  expect(await rows()).toEqual([['A1', 6, 1, 5, 10]]);
  expect(await services.shelf.moves({ partId: 'p1' })).toHaveLength(2);
});

test('within a batch each move finds what the ones before it left', async () => {
  expect((await record(move('out', 5), move('in', 1, { unitCost: 10 }), move('out', 1))).ok).toBe(true);
  expect((await record(move('out', 1), move('in', 1, { unitCost: 10 }))).ok).toBe(false);
});

test('the same move again changes nothing, alone or beside a new one', async () => {
  const first = move('out', 2);
  const answer = await record(first);
  expect(await record(first)).toEqual(answer);
  expect((await record(first, move('out', 1))).ok).toBe(true);
  expect(await rows()).toEqual([['A1', 3, 1, 2, 10]]);
});

test('a count books the difference, says what the books had, and alone brings a bin below none', async () => {
  const answer = await record(move('count', 0, { reason: 'bin was empty' }));
  expect(answer).toMatchObject({ value: { moves: [{ kind: 'count', qty: 0, booked: 6, by: 'Ans', reason: 'bin was empty' }], rows: [{ onHand: 0, reserved: 1, free: -1, below: true }] } });
  expect(await rows()).toEqual([['A1', 0, 1, -1, 10, 'below']]);
  // A fit and a plan count on nothing there, and the shape they read has no less than none.
  expect(await services.shelf.list()).toEqual([{ partId: 'p1', bin: 'A1', onHand: 0, reserved: 0, free: 0, unitCost: 10 }]);
  expect((await services.prices.current()).shelf).toEqual([{ partId: 'p1', onHand: 0, reserved: 0, unitCost: 10 }]);
  expect((await record(move('in', 2, { unitCost: 10 }))).ok).toBe(true);
  expect(await rows()).toEqual([['A1', 2, 1, 1, 10]]);
});

test('what went after an offline count and was not known to it is not missing; what went before it is in it', async () => {
  const seen = (await services.shelf.rows())[0]!.seq;
  // Counted at 10:05 with the books of before; a sale of 9:50 and one of 10:10 arrive first.
  await record(move('out', 1, { at: '2026-11-25T09:50:00Z' }), move('out', 2, { at: '2026-11-25T10:10:00Z' }));
  const counted = await record(move('count', 5, { at: '2026-11-25T10:05:00Z', knownSeq: seen }));
  expect(counted).toMatchObject({ value: { moves: [{ qty: 5, booked: 5 }], rows: [{ onHand: 3 }] } });
});

test('of two counts that did not know of each other the later one stands, in whatever order they arrive', async () => {
  const seen = (await services.shelf.rows())[0]!.seq;
  const [early, late] = [move('count', 8, { at: '2026-11-25T10:05:00Z', knownSeq: seen }), move('count', 7, { at: '2026-11-25T10:10:00Z', knownSeq: seen })];
  await record(late);
  expect(await record(early)).toMatchObject({ value: { moves: [{ qty: 8, booked: 8 }], rows: [{ onHand: 7 }] } });
  await record(move('count', 6, { at: '2026-11-25T10:20:00Z', knownSeq: seen }));
  expect((await rows())[0]).toEqual(['A1', 6, 1, 5, 10]);
});

test('a part found where none was booked gets a bin of its own', async () => {
  expect((await record(move('count', 2, { bin: 'Z9' }))).ok).toBe(true);
  expect(await rows()).toEqual([['A1', 6, 1, 5, 10], ['Z9', 2, 0, 2, 10]]);
});

test('a unit costs the weighted average of what came in, to four decimals, half to even', async () => {
  // (6 x 10 + 2 x 14) / 8 = 11 ; (8 x 11 + 1 x 11.0005) / 9 = 11.00005..., rounded to 11.0001; IAS 2, 27 (from memory).
  await record(move('in', 2, { unitCost: 14 }));
  expect((await rows())[0]![4]).toBe(11);
  await record(move('in', 1, { unitCost: 11.0005 }));
  expect((await rows())[0]![4]).toBe(11.0001);
  await record(move('in', 1, { unitCost: 11.0011 }));
  expect((await rows())[0]![4]).toBe(11.0002);
  await record(move('out', 9), move('release', 1), move('out', 1), move('in', 1, { unitCost: 3 }));
  expect((await rows())[0]).toEqual(['A1', 1, 0, 1, 3]);
});

test('the first units of a part have to say what they cost', async () => {
  expect(await record(move('in', 1, { partId: 'p2', bin: 'B1' }))).toMatchObject({ refusal: { faults: [{ path: 'moves[0].unitCost' }] } });
  expect((await record(move('in', 1, { partId: 'p2', bin: 'B1', unitCost: 4.5 }), move('in', 1, { partId: 'p2', bin: 'B2' }))).ok).toBe(true);
  expect((await services.shelf.rows({ partId: 'p2' })).map(({ unitCost }) => unitCost)).toEqual([4.5, 4.5]);
});

test('a reservation is freed by its own id, never for more than it holds, and fitting it is release and out', async () => {
  const put = move('reserve', 2, { jobId: makeId(1) });
  await record(put);
  expect(await record(move('release', 3, { reservationId: put.id }))).toMatchObject({ refusal: { kind: 'conflict' } });
  expect(await record(move('release', 2))).toMatchObject({ refusal: { kind: 'conflict', why: '2 of p1 in bin A1 to be free again, 1 put aside' } });
  expect((await record(move('release', 1, { reservationId: put.id }), move('out', 1, { reservationId: put.id }))).ok).toBe(true);
  expect(await rows()).toEqual([['A1', 5, 2, 3, 10]]);
  expect(await services.shelf.reservations(makeId(1))).toMatchObject([{ id: put.id, qty: 1, bin: 'A1' }]);
  expect((await services.shelf.moves({ jobId: makeId(1) })).map(({ kind }) => kind)).toEqual(['reserve', 'release', 'out']);
});

test('a late repeat of a reservation that was given back reserves nothing', async () => {
  const ask = { id: makeId(1, 6), partId: 'p1', qty: 2, jobId: makeId(1), at };
  await services.shelf.reserve(ask);
  await services.shelf.release(ask.id);
  expect(await services.shelf.reserve(ask)).toMatchObject({ ok: true, value: { created: false } });
  expect(await rows()).toEqual([['A1', 6, 1, 5, 10]]);
});

test.each([
  ['partId', { partId: 'nope' }], ['jobId', { jobId: makeId(77) }],
])('a move whose %s is not there is refused with its place in the batch', async (path, more) => {
  expect(await record(move('out', 1), move('out', 1, more))).toMatchObject({ refusal: { faults: [{ path: `moves[1].${path}` }] } });
});

test('demand is what was asked of the shelf: once for a unit put aside and fitted, none for what was counted, moved, scrapped or sent back', async () => {
  const put = move('reserve', 2, { jobId: makeId(1), at: '2026-11-20T09:00:00Z' });
  await record(put, move('release', 2, { reservationId: put.id, at: '2026-11-20T10:00:00Z' }), move('out', 2, { reservationId: put.id, at: '2026-11-20T10:00:00Z' }));
  // Sold over the counter, one of them brought back; received for a job that waited.
  await record(move('out', 2, { at: '2026-11-21T09:00:00Z' }), move('return', 1, { at: '2026-11-21T10:00:00Z' }));
  await record(move('in', 1, { unitCost: 10, orderLineId: 'l', at: '2026-11-22T09:00:00Z' }), move('reserve', 1, { jobId: makeId(1), orderLineId: 'l', at: '2026-11-22T09:00:00Z' }));
  await record(move('scrap', 1, { at: '2026-11-23T09:00:00Z' }), move('transfer', 1, { toBin: 'B9', at: '2026-11-23T09:00:00Z' }), move('count', 9, { at: '2026-11-23T09:00:00Z' }), move('out', 1, { orderLineId: 'l', at: '2026-11-23T09:00:00Z' }));
  const store = await openStore(file);
  const days = async (since: string) => (await listDemand(store.db, since)).map(({ day, qty }) => [day, qty]);
  expect(await days('2026-11-01')).toEqual([['2026-11-20', 2], ['2026-11-21', 1], ['2026-11-22', 1]]);
  expect(await days('2026-11-21')).toEqual([['2026-11-21', 1], ['2026-11-22', 1]]);
  await store.close();
});
