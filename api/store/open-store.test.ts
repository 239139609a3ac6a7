import { readFileSync } from 'node:fs';
import { Kysely, sql } from 'kysely';
import sqlite3 from 'sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { appendJobEdits, findJob, insertJob, listJobEdits, type JobEditRow } from './job.repository.ts';
import { MIGRATIONS } from './migrations/index.ts';
import { openStore, type Store } from './open-store.ts';
import { insertOutcome, listLastOutcomes, listOutcomes } from './outcome.repository.ts';
import { listParts, putParts } from './part.repository.ts';
import { listReservationSums, listStockBins, listStockMoves } from './stock-move.repository.ts';
import { SqliteFileDialect } from './sqlite-dialect.ts';
import { makeTemporaryFile } from './temporary-file.ts';

let temporary: ReturnType<typeof makeTemporaryFile>;
const opened: Store[] = [];

async function open(): Promise<Store> {
  const store = await openStore(temporary.file);
  opened.push(store);
  return store;
}

beforeEach(() => {
  temporary = makeTemporaryFile();
});
afterEach(async () => {
  await Promise.all(opened.splice(0).map((store) => store.close()));
  temporary.remove();
});

async function listSchema(store: Store): Promise<string[]> {
  const { rows } = await sql<{ sql: string }>`select sql from sqlite_schema where sql is not null order by name`.execute(store.db);
  return rows.map((row) => row.sql);
}

/** Makes a file as an earlier version left it. */
async function writeFixture(name: string): Promise<void> {
  const statements = readFileSync(new URL(`./fixtures/${name}.sql`, import.meta.url), 'utf8');
  await new Promise<void>((resolve, reject) => {
    const db: sqlite3.Database = new sqlite3.Database(temporary.file, () => db.exec(statements, (error) => error ? reject(error) : db.close(() => resolve())));
  });
}

const edit = (n: number, more: Partial<JobEditRow> = {}): JobEditRow => ({
  id: `1b0c6a52-3d1e-4c57-9a41-6f2f0f8f1b${String(n).padStart(2, '0')}`, field: '["notes"]', value: `"${n}"`, base: 0, author: null, device: null, act: null, settles: null, heldFor: null, held: 0,
  at: '2026-11-25T11:00:00Z', ...more,
});

test('an empty file gets every table, and opening it again changes nothing', async () => {
  const first = await open();
  const schema = await listSchema(first);
  expect(schema.filter((line) => line.startsWith('CREATE TABLE') || line.startsWith('create table')).length).toBeGreaterThanOrEqual(10);
  await first.transact((tx) => putParts(tx, [{ id: 'a', position: 0, json: '{}' }]));
  const second = await open();
  expect(await listSchema(second)).toEqual(schema);
  expect(await listParts(second.db)).toEqual([{ id: 'a', position: 0, json: '{}' }]);
});

test('a file of the first version keeps its rows and gets the tables of this one', async () => {
  await writeFixture('20261125-1000-catalogue-and-jobs');
  const store = await open();
  expect((await listParts(store.db)).map((part) => part.id)).toEqual(['first-part']);
  expect(await findJob(store.db, '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a01')).toMatchObject({ revision: 2, lastSeq: 2 });
  expect((await listJobEdits(store.db, '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a01')).map((row) => row.field)).toEqual(['["title"]', '["record"]']);

  const fromEmpty = makeTemporaryFile();
  const fresh = await openStore(fromEmpty.file);
  expect(await listSchema(store)).toEqual(await listSchema(fresh));
  await fresh.close();
  fromEmpty.remove();
});

test('bins and what was taken from them become moves, and the moves add up to what the bins held', async () => {
  await writeFixture('20261125-1720-uploads');
  const store = await open();
  expect(await listStockBins(store.db)).toMatchObject([
    { partId: 'first-part', bin: 'A1', onHand: 4, reserved: 3, unitCost: 100_000 }, { partId: 'first-part', bin: 'B2', onHand: 0, reserved: 0, unitCost: 95_000 },
  ]);
  const moves = await listStockMoves(store.db, { most: 100 });
  expect(moves.map(({ kind, bin, qty, jobId }) => [kind, bin, qty, jobId !== null])).toEqual([
    ['in', 'A1', 5, false], ['reserve', 'A1', 1, false], ['count', 'B2', 0, false], ['reserve', 'A1', 2, true], ['out', 'A1', 1, false],
  ]);
  expect(await listReservationSums(store.db, {})).toMatchObject([
    { id: '2b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a01', left: 2, made: 2, at: '2026-11-25T10:40:00Z' }, { id: '2b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a02', left: 1, jobId: null },
  ]);
  await expect(store.transact((tx) => sql`select 1 from "shelfBin"`.execute(tx))).rejects.toThrow();
});

test('a move in the ledger can be neither changed nor taken away, and does what its kind does', async () => {
  await writeFixture('20261125-1720-uploads');
  const store = await open();
  const before = await listStockMoves(store.db, { most: 100 });
  for (const statement of ['update "stockMove" set "qty" = 9', 'delete from "stockMove"', 'insert or replace into "stockMove" select * from "stockMove"',
    `insert into "stockMove" ("id", "kind", "partId", "bin", "qty", "onHandBy", "reservedBy", "at") values ('x', 'out', 'first-part', 'A1', 1, 1, 0, '2026-11-25T11:00:00Z')`]) {
    await expect(store.transact((tx) => sql.raw(statement).execute(tx)), statement).rejects.toThrow();
  }
  expect(await listStockMoves(store.db, { most: 100 })).toEqual(before);
});

test('every version but the newest has a fixture of what it left', () => {
  for (const name of Object.keys(MIGRATIONS).slice(0, -1)) {
    expect(readFileSync(new URL(`./fixtures/${name}.sql`, import.meta.url), 'utf8')).toContain(name);
  }
});

test('two openings of one empty file at once both find it ready', async () => {
  const [a, b] = await Promise.all([open(), open()]);
  expect(await listSchema(a)).toEqual(await listSchema(b));
});

test('a file of a later version is refused with its name, and left as it was', async () => {
  await (await open()).close();
  opened.splice(0);
  const db = new Kysely<{ kysely_migration: { name: string; timestamp: string } }>({ dialect: new SqliteFileDialect({ file: temporary.file }) });
  await db.insertInto('kysely_migration').values({ name: '29990101-0000-far-ahead', timestamp: '' }).execute();
  await db.destroy();
  await expect(openStore(temporary.file)).rejects.toThrow(/later version.*29990101-0000-far-ahead/);
});

test('an edit in the log can be neither changed nor taken away', async () => {
  const store = await open();
  const job = { id: '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a02', revision: 0, document: '{"title":"x"}', conflicts: '[]' };
  await store.transact(async (tx) => {
    await insertJob(tx, { id: job.id, createdAt: '2026-11-25T11:00:00Z' });
    await appendJobEdits(tx, job, [edit(1), edit(2)]);
  });
  for (const statement of ['update "jobEdit" set value = \'"other"\'', 'delete from "jobEdit"', 'insert or replace into "jobEdit" select * from "jobEdit"']) {
    await expect(store.transact((tx) => sql.raw(statement).execute(tx)), statement).rejects.toThrow();
  }
  expect((await listJobEdits(store.db, job.id)).map((row) => row.value)).toEqual(['"1"', '"2"']);
});

test('an outcome in the log can be neither changed nor taken away', async () => {
  const store = await open();
  const jobId = '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a04';
  await store.transact(async (tx) => {
    await putParts(tx, [{ id: 'a', position: 0, json: '{}' }]);
    await insertJob(tx, { id: jobId, createdAt: '2026-11-25T11:00:00Z' });
    for (const [id, result] of [['o1', 'held'], ['o2', 'came-back']] as const) {
      await insertOutcome(tx, { id, jobId, partId: 'a', machineKind: null, result, reason: null, words: null, by: null, at: '2026-11-25T11:00:00Z' });
    }
  });
  for (const statement of ['update "outcome" set result = \'held\'', 'delete from "outcome"', 'insert or replace into "outcome" select * from "outcome"']) {
    await expect(store.transact((tx) => sql.raw(statement).execute(tx)), statement).rejects.toThrow();
  }
  expect((await listOutcomes(store.db)).map((row) => row.result)).toEqual(['held', 'came-back']);
  expect((await listLastOutcomes(store.db)).map((row) => row.id)).toEqual(['o2']);
});

test('the log gives edits back in the order of their appending, however they are called and whenever they were made', async () => {
  const store = await open();
  const id = '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a03';
  const many = Array.from({ length: 250 }, (_, n) => edit(99 - n, { id: `e${(n * 7919) % 1000}`, at: `2026-11-25T11:00:${String(59 - (n % 60)).padStart(2, '0')}Z` }));
  await store.transact(async (tx) => {
    await insertJob(tx, { id, createdAt: '2026-11-25T11:00:00Z' });
    await appendJobEdits(tx, { id, revision: 0, document: '{}', conflicts: '[]' }, many);
  });
  expect((await listJobEdits(store.db, id)).map((row) => row.id)).toEqual(many.map((row) => row.id));
  expect(await findJob(store.db, id)).toMatchObject({ revision: 250, lastSeq: 250, changedAt: many.at(-1)!.at });
});
