import sqlite3 from 'sqlite3';
import { rowForDatabase, SCORE_COLUMNS, writeStatement, type Question } from './score-question.ts';
import type { ScoreRows } from './score-rows.ts';

/** A database that answers a question with the ranks of the best parts. */
export interface DatabaseSide {
  readonly name: string;
  /** The statement is prepared and its parameters are turned into the driver's form here, outside what is timed. */
  prepare(question: Question, most: number): Promise<() => Promise<number[]>>;
  close(): Promise<void>;
}

const ROWS_A_STATEMENT = 100;

/**
 * SQLite in memory, by its own driver. Two tables: `scan` in the catalogue's order, and `clustered`, stored in order of profile and price with
 * all columns in the tree itself, so that the gates on the profile leave only runs to read. (Separate indexes on single gates are slower than
 * the scan: each hit is a jump.)
 */
export async function openSqlite(rows: ScoreRows): Promise<{ scan: DatabaseSide; clustered: DatabaseSide; roundTripMs(): Promise<number> }> {
  const database = await new Promise<sqlite3.Database>((resolve, reject) => {
    const opened = new sqlite3.Database(':memory:', (error) => (error ? reject(error) : resolve(opened)));
  });
  const run = (sql: string): Promise<void> => new Promise((resolve, reject) => { database.exec(sql, (error) => (error ? reject(error) : resolve())); });
  await run('PRAGMA page_size = 16384; PRAGMA temp_store = MEMORY; PRAGMA cache_size = -1000000; PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA locking_mode = EXCLUSIVE;');
  // Without declared types whole numbers are stored as whole numbers, which read faster.
  await run(`CREATE TABLE scan (${SCORE_COLUMNS.join(', ')}); BEGIN;`);
  const oneRow = `(${SCORE_COLUMNS.map(() => '?').join(', ')})`;
  const insert = await prepare(database, `INSERT INTO scan VALUES ${Array.from({ length: ROWS_A_STATEMENT }, () => oneRow).join(', ')}`);
  const insertOne = await prepare(database, `INSERT INTO scan VALUES ${oneRow}`);
  for (let row = 0; row < rows.count; row += ROWS_A_STATEMENT) {
    const many = Math.min(ROWS_A_STATEMENT, rows.count - row);
    if (many === ROWS_A_STATEMENT) await runWith(insert, Array.from({ length: many }, (_, i) => rowForDatabase(rows, row + i)).flat());
    else for (let i = 0; i < many; i++) await runWith(insertOne, rowForDatabase(rows, row + i));
  }
  await Promise.all([insert, insertOne].map(finalize));
  const others = SCORE_COLUMNS.filter((column) => column !== 'profile' && column !== 'landed' && column !== 'rank');
  await run(`COMMIT; CREATE TABLE clustered (profile, price, rank, landed, ${others.join(', ')}, PRIMARY KEY (profile, price, rank)) WITHOUT ROWID;
    INSERT INTO clustered SELECT profile, COALESCE(landed, 0), rank, landed, ${others.join(', ')} FROM scan ORDER BY profile, COALESCE(landed, 0), rank; ANALYZE;`);

  const statements = new Map<string, sqlite3.Statement>();
  const close = async (): Promise<void> => {
    await Promise.all([...statements.values()].map(finalize));
    statements.clear();
    await new Promise<void>((resolve, reject) => { database.close((error) => (error ? reject(error) : resolve())); });
  };
  const side = (table: string): DatabaseSide => ({
    name: `SQLite ${table}`,
    prepare: async (question, most) => {
      const { sql, parameters } = writeStatement(table, question, most);
      const numbered = sql.replaceAll('$', '?');
      let statement = statements.get(numbered);
      if (!statement) statements.set(numbered, statement = await prepare(database, numbered));
      const ready = statement;
      const values = parameters.map(({ value }) => value);
      return () => allOf(ready, values);
    },
    close: table === 'scan' ? close : () => Promise.resolve(),
  });
  const empty = await prepare(database, 'SELECT 1 AS rank');
  statements.set('SELECT 1', empty);
  return {
    scan: side('scan'), clustered: side('clustered'),
    roundTripMs: async () => {
      const start = performance.now();
      for (let i = 0; i < 200; i++) await allOf(empty, []);
      return (performance.now() - start) / 200;
    },
  };
}

function prepare(database: sqlite3.Database, sql: string): Promise<sqlite3.Statement> {
  return new Promise((resolve, reject) => {
    const statement = database.prepare(sql, (error: Error | null) => (error ? reject(error) : resolve(statement)));
  });
}

function runWith(statement: sqlite3.Statement, parameters: (number | null)[]): Promise<void> {
  return new Promise((resolve, reject) => { statement.run(parameters, (error: Error | null) => (error ? reject(error) : resolve())); });
}

function allOf(statement: sqlite3.Statement, parameters: readonly number[]): Promise<number[]> {
  return new Promise((resolve, reject) => {
    statement.all<{ rank: number }>(parameters, (error, found) => (error ? reject(error) : resolve(found.map(({ rank }) => rank))));
  });
}

function finalize(statement: sqlite3.Statement): Promise<void> {
  return new Promise((resolve) => { statement.finalize(() => resolve()); });
}
