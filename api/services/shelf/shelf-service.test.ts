import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { reservation, shelfRow, type ReservationRequest } from '../../../catalog-schema/index.ts';
import { openServices, type Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

let services: Services;
let file: string;
let remove: () => Promise<void>;
let folder: string;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-shop-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2'), makePart('p3')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', suppliers: [], offers: [],
    shelf: [
      { partId: 'p1', bin: 'A1', onHand: 8, reserved: 1, unitCost: 10 },
      { partId: 'p2', bin: 'B1', onHand: 2, unitCost: 5 }, { partId: 'p2', bin: 'B2', onHand: 3, unitCost: 6 },
    ],
  }));
  ({ services, file, remove } = await openTestServices({ demoFolder: folder }));
  await services.jobs.create(makeJob(1));
});
afterEach(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

const ask = (n: number, more: Partial<ReservationRequest> = {}): ReservationRequest => ({ id: makeId(n, 3), partId: 'p1', qty: 1, jobId: makeId(1), at: '2026-11-25T10:00:00Z', ...more });

test('a reservation for a job leaves the units in the bin, but not free', async () => {
  const outcome = await services.shelf.reserve(ask(1, { qty: 2 }));
  expect(outcome).toMatchObject({ ok: true, value: { created: true, reservation: { bin: 'A1', qty: 2 } } });
  const row = (await services.shelf.list())[0]!;
  expect(row).toEqual({ partId: 'p1', bin: 'A1', onHand: 8, reserved: 3, free: 5, unitCost: 10 });
  expect(shelfRow.parse(row)).toEqual(row);
  expect((await services.shelf.reservations(makeId(1))).map((each) => reservation.parse(each).id)).toEqual([makeId(1, 3)]);
  expect(await services.shelf.reservations(makeId(2))).toEqual([]);
});

test('a counter sale takes the units out of the bin', async () => {
  await services.shelf.reserve(ask(1, { qty: 2, jobId: undefined }));
  expect((await services.shelf.list())[0]).toMatchObject({ onHand: 6, reserved: 1, free: 5 });
});

test('what is put back is free again', async () => {
  await services.shelf.reserve(ask(1, { qty: 7 }));
  expect((await services.shelf.list())[0]!.free).toBe(0);
  expect(await services.shelf.release(makeId(1, 3))).toEqual({ ok: true, value: null });
  expect((await services.shelf.list())[0]!.free).toBe(7);
  expect(await services.shelf.release(makeId(1, 3))).toMatchObject({ ok: false, refusal: { kind: 'not-found' } });
});

test('the same request again reserves nothing more', async () => {
  await services.shelf.reserve(ask(1, { qty: 5 }));
  expect(await services.shelf.reserve(ask(1, { qty: 5 }))).toMatchObject({ ok: true, value: { created: false } });
  expect((await services.shelf.list())[0]!.free).toBe(2);
});

test('units come from one bin where one has enough, else from several', async () => {
  expect(await services.shelf.reserve(ask(1, { partId: 'p2', qty: 3 }))).toMatchObject({ value: { reservation: { bin: 'B2' } } });
  await services.shelf.release(makeId(1, 3));
  expect(await services.shelf.reserve(ask(2, { partId: 'p2', qty: 4 }))).toMatchObject({ value: { reservation: { bin: 'B1, B2' } } });
  expect((await services.shelf.list()).filter((row) => row.partId === 'p2').map((row) => row.free)).toEqual([0, 1]);
});

test('exactly what is free can be had, one more cannot, and a part without a bin has none', async () => {
  expect(await services.shelf.reserve(ask(1, { qty: 8 }))).toMatchObject({ ok: false, refusal: { kind: 'conflict', why: '8 of p1 asked for, 7 free' } });
  expect((await services.shelf.reserve(ask(2, { qty: 7 }))).ok).toBe(true);
  expect(await services.shelf.reserve(ask(3, { partId: 'p3' }))).toMatchObject({ refusal: { kind: 'conflict', why: '1 of p3 asked for, 0 free' } });
});

test('a part or job that does not exist is a fault of the request', async () => {
  expect(await services.shelf.reserve(ask(1, { partId: 'nope' }))).toMatchObject({ refusal: { faults: [{ path: 'partId' }] } });
  expect(await services.shelf.reserve(ask(1, { jobId: makeId(9) }))).toMatchObject({ refusal: { faults: [{ path: 'jobId' }] } });
});

test('fifty reservers at once, through two servers on one file, get the seven free units and not one more', async () => {
  const second = await openServices({ file });
  const outcomes = await Promise.all(Array.from({ length: 50 }, (_, n) => (n % 2 ? second : services).shelf.reserve(ask(n))));
  await second.close();
  expect(outcomes.filter((outcome) => outcome.ok)).toHaveLength(7);
  expect(outcomes.filter((outcome) => !outcome.ok && outcome.refusal.kind === 'conflict')).toHaveLength(43);
  expect((await services.shelf.list())[0]).toMatchObject({ onHand: 8, reserved: 8, free: 0 });
  expect(await services.shelf.reservations()).toHaveLength(7);
});
