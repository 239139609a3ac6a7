import { Kysely, sql, type Generated } from 'kysely';
import { afterAll, afterEach, beforeEach, expect, test } from 'vitest';
import { runGuarded, SqliteFileDialect } from './sqlite-dialect.ts';
import { makeTemporaryFile } from './temporary-file.ts';

interface Tables { note: { id: Generated<number>; words: string | null; amount: number | null } }

const temporary = makeTemporaryFile();
let db: Kysely<Tables>;
const opened: Kysely<Tables>[] = [];

function open(readOnly = false): Kysely<Tables> {
  const made = new Kysely<Tables>({ dialect: new SqliteFileDialect({ file: temporary.file, readOnly }) });
  opened.push(made);
  return made;
}

beforeEach(async () => {
  db = open();
  await sql`drop table if exists note`.execute(db);
  await db.schema.createTable('note').addColumn('id', 'integer', (c) => c.primaryKey().autoIncrement())
    .addColumn('words', 'text').addColumn('amount', 'real').execute();
});
afterAll(temporary.remove);
afterEach(async () => {
  await Promise.all(opened.splice(0).map((each) => each.destroy()));
});

const words = async (from = db): Promise<unknown[]> => (await from.selectFrom('note').select('words').orderBy('id').execute()).map((row) => row.words);

test.each([
  ['bigint', 1n], ['an object', {}], ['an object', []], ['a Date', new Date(0)], ['NaN', Number.NaN], ['Infinity', Number.POSITIVE_INFINITY],
  ['not exact', 2 ** 53], ['boolean', true], ['undefined', undefined], ['surrogate', 'a\uD800'],
])('binding %s throws and stores nothing', async (what, value) => {
  await expect(sql`insert into note (words) values (${value})`.execute(db)).rejects.toThrow(what);
  expect(await words()).toEqual([]);
});

test.each([['text', 'Ω µ'], ['text with a NUL', 'a\0b'], ['null', null], ['empty text', '']])('%s comes back as it went in', async (_, value) => {
  await db.insertInto('note').values({ words: value }).execute();
  expect(await words()).toEqual([value]);
});

test('numbers come back to the last digit', async () => {
  const amounts = [0.1, -1.5e-300, 12, Number.MAX_SAFE_INTEGER, 1 / 3];
  await db.insertInto('note').values(amounts.map((amount) => ({ amount }))).execute();
  expect((await db.selectFrom('note').select('amount').orderBy('id').execute()).map((row) => row.amount)).toEqual(amounts);
});

test('an insert tells its id, an update how many rows it changed, returning gives rows', async () => {
  expect((await db.insertInto('note').values([{ words: 'a' }, { words: 'b' }]).executeTakeFirst()).insertId).toBe(2n);
  expect((await db.updateTable('note').set({ amount: 1 }).executeTakeFirst()).numUpdatedRows).toBe(2n);
  expect(await db.deleteFrom('note').where('words', '=', 'a').returning('id').execute()).toEqual([{ id: 1 }]);
});

test('commits are kept through power loss: every one is flushed to a write-ahead log', async () => {
  const journal = await sql<{ journal_mode: string }>`pragma journal_mode`.execute(db);
  const flushed = await sql<{ synchronous: number }>`pragma synchronous`.execute(db);
  expect([journal.rows[0]!.journal_mode, flushed.rows[0]!.synchronous]).toEqual(['wal', 2]);
});

test('a transaction that throws leaves nothing behind', async () => {
  await expect(db.transaction().execute(async (tx) => {
    await tx.insertInto('note').values({ words: 'a' }).execute();
    throw new Error('changed my mind');
  })).rejects.toThrow('changed my mind');
  expect(await words()).toEqual([]);
});

test('a failed statement does not spoil the one after it', async () => {
  await db.insertInto('note').values({ id: 1, words: 'a' }).execute();
  await expect(db.insertInto('note').values({ id: 1, words: 'b' }).execute()).rejects.toThrow('UNIQUE');
  await expect(sql`select nonsense from nowhere`.execute(db)).rejects.toThrow('nowhere');
  await db.insertInto('note').values({ id: 2, words: 'c' }).execute();
  expect(await words()).toEqual(['a', 'c']);
});

test('going back to a savepoint undoes what came after it only', async () => {
  const tx = await db.startTransaction().execute();
  await tx.insertInto('note').values({ words: 'kept' }).execute();
  const inner = await tx.savepoint('inner').execute();
  await inner.insertInto('note').values({ words: 'undone' }).execute();
  await inner.rollbackToSavepoint('inner').execute();
  const second = await tx.savepoint('second').execute();
  await second.insertInto('note').values({ words: 'kept too' }).execute();
  await second.releaseSavepoint('second').execute();
  await tx.commit().execute();
  expect(await words()).toEqual(['kept', 'kept too']);
});

test('transactions started together take turns', async () => {
  const order: string[] = [];
  await Promise.all(['a', 'b', 'c'].map((name) => db.transaction().execute(async (tx) => {
    order.push(`${name} in`);
    await tx.insertInto('note').values({ words: name }).execute();
    await new Promise((resolve) => setTimeout(resolve, 5));
    order.push(`${name} out`);
  })));
  expect(order).toEqual(['a in', 'a out', 'b in', 'b out', 'c in', 'c out']);
});

test('a second connection waits for a writing transaction of the first instead of failing', async () => {
  const other = open();
  await Promise.all([db, other].map((each) => each.transaction().execute(async (tx) => {
    const count = await tx.selectFrom('note').select((eb) => eb.fn.countAll<number>().as('n')).executeTakeFirstOrThrow();
    await new Promise((resolve) => setTimeout(resolve, 20));
    await tx.insertInto('note').values({ amount: count.n }).execute();
  })));
  expect((await db.selectFrom('note').select('amount').orderBy('id').execute()).map((row) => row.amount)).toEqual([0, 1]);
});

test('reading beside a writing transaction sees what was committed, at once', async () => {
  const reader = open(true);
  await db.insertInto('note').values({ words: 'before' }).execute();
  await db.transaction().execute(async (tx) => {
    await tx.insertInto('note').values({ words: 'during' }).execute();
    expect(await words(reader)).toEqual(['before']);
  });
  expect(await words(reader)).toEqual(['before', 'during']);
});

test('the reading connection cannot write', async () => {
  await expect(open(true).insertInto('note').values({ words: 'a' }).execute()).rejects.toThrow('readonly');
});

test('using the outer database inside a guarded transaction throws instead of waiting for ever', async () => {
  await expect(runGuarded(() => db.transaction().execute(async () => words(db)))).rejects.toThrow('outer database');
  await expect(runGuarded(() => db.transaction().execute(async () => runGuarded(() => db.transaction().execute(async () => 1))))).rejects.toThrow('a transaction is running');
  expect(await runGuarded(() => db.transaction().execute(async (tx) => words(tx)))).toEqual([]);
});

test('more kinds of statement than are kept prepared all answer rightly', async () => {
  for (let round = 0; round < 2; round++) {
    for (let n = 0; n < 250; n++) {
      const result = await sql<{ n: number }>`select ${sql.lit(n)} as n`.execute(db);
      expect(result.rows).toEqual([{ n }]);
    }
  }
});
