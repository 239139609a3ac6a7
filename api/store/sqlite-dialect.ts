import { AsyncLocalStorage } from 'node:async_hooks';
import {
  CompiledQuery, SelectQueryNode, SqliteAdapter, SqliteIntrospector, SqliteQueryCompiler,
  type DatabaseConnection, type DatabaseIntrospector, type Dialect, type DialectAdapter, type Driver, type Kysely,
  type QueryCompiler, type QueryResult,
} from 'kysely';
import sqlite3 from 'sqlite3';
import { assertBindable } from './bind-value.ts';

export interface SqliteFile {
  readonly file: string;
  /** a second connection that can only read, beside a writer that has already opened the file */
  readonly readOnly?: boolean;
}

const STATEMENTS_KEPT = 200;
const BUSY_TIMEOUT_MS = 5_000;
// Without recursive triggers, INSERT OR REPLACE takes a row away past the trigger that refuses it.
const WRITER_PRAGMAS = ['journal_mode = wal', 'synchronous = full', 'foreign_keys = on', 'recursive_triggers = on'];

/** Kysely over one connection of the npm package sqlite3, behind a mutex. */
export class SqliteFileDialect implements Dialect {
  readonly #options: SqliteFile;

  constructor(options: SqliteFile) {
    this.#options = options;
  }

  createDriver(): Driver { return new SqliteFileDriver(this.#options); }
  createQueryCompiler(): QueryCompiler { return new SqliteQueryCompiler(); }
  createAdapter(): DialectAdapter { return new SqliteFileAdapter(); }
  createIntrospector(db: Kysely<unknown>): DatabaseIntrospector { return new SqliteIntrospector(db); }
}

class SqliteFileAdapter extends SqliteAdapter {
  // The mutex is the driver's own, so that it can refuse the outer database inside a transaction instead of waiting for ever.
  override get supportsMultipleConnections(): boolean { return true; }
  // SQLite rolls schema changes back, so a migration that is cut off leaves the version before it.
  override get supportsTransactionalDdl(): boolean { return true; }
}

/** Set while a transaction of ours runs; `holds` once it has taken the connection. */
const runningTransaction = new AsyncLocalStorage<{ holds: boolean; ended: boolean }>();

/** Runs `work`, which starts one transaction; any other use of the same database within it throws. */
export async function runGuarded<T>(work: () => Promise<T>): Promise<T> {
  const mark = { holds: false, ended: false };
  if (isInsideTransaction()) throw new Error('a transaction is running: use its own database, or a savepoint of it');
  try {
    return await runningTransaction.run(mark, work);
  } finally {
    mark.ended = true;
  }
}

function isInsideTransaction(): boolean {
  const mark = runningTransaction.getStore();
  return mark !== undefined && mark.holds && !mark.ended;
}

class SqliteFileDriver implements Driver {
  readonly #options: SqliteFile;
  #connection: SqliteConnection | undefined;
  #last: Promise<void> = Promise.resolve();
  #release: (() => void) | undefined;

  constructor(options: SqliteFile) {
    this.#options = options;
  }

  async init(): Promise<void> {
    const { file, readOnly = false } = this.#options;
    const mode = readOnly ? sqlite3.OPEN_READONLY : sqlite3.OPEN_READWRITE | sqlite3.OPEN_CREATE;
    const handle = await new Promise<sqlite3.Database>((resolve, reject) => {
      const opened: sqlite3.Database = new sqlite3.Database(file, mode, (error) => error ? reject(error) : resolve(opened));
    });
    handle.configure('busyTimeout', BUSY_TIMEOUT_MS);
    this.#connection = new SqliteConnection(handle);
    for (const pragma of readOnly ? ['query_only = on'] : WRITER_PRAGMAS) await this.#setPragma(pragma);
  }

  /** SQLite does not wait where two openers turn one file to its write-ahead log at once; so we do. */
  async #setPragma(pragma: string): Promise<void> {
    const until = performance.now() + BUSY_TIMEOUT_MS;
    for (;;) {
      try {
        await this.#connection!.executeQuery(CompiledQuery.raw(`pragma ${pragma}`));
        return;
      } catch (error) {
        if ((error as { code?: string }).code !== 'SQLITE_BUSY' || performance.now() > until) throw error;
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
    }
  }

  async acquireConnection(): Promise<DatabaseConnection> {
    const mark = runningTransaction.getStore();
    if (!this.#options.readOnly && mark && !mark.ended) {
      if (mark.holds) throw new Error('the outer database is used inside a transaction: use the one the transaction gives');
      mark.holds = true;
    }
    const before = this.#last;
    let release = (): void => undefined;
    this.#last = new Promise<void>((resolve) => { release = resolve; });
    await before;
    this.#release = release;
    return this.#connection!;
  }

  async releaseConnection(): Promise<void> {
    this.#release?.();
  }

  async beginTransaction(connection: DatabaseConnection): Promise<void> {
    // A deferred transaction that turns into a writer half-way fails at once instead of waiting its turn.
    await connection.executeQuery(CompiledQuery.raw(this.#options.readOnly ? 'begin' : 'begin immediate'));
  }
  async commitTransaction(connection: DatabaseConnection): Promise<void> { await connection.executeQuery(CompiledQuery.raw('commit')); }
  async rollbackTransaction(connection: DatabaseConnection): Promise<void> { await connection.executeQuery(CompiledQuery.raw('rollback')); }
  async savepoint(connection: DatabaseConnection, name: string): Promise<void> { await connection.executeQuery(CompiledQuery.raw(`savepoint "${name}"`)); }
  async rollbackToSavepoint(connection: DatabaseConnection, name: string): Promise<void> { await connection.executeQuery(CompiledQuery.raw(`rollback to "${name}"`)); }
  async releaseSavepoint(connection: DatabaseConnection, name: string): Promise<void> { await connection.executeQuery(CompiledQuery.raw(`release "${name}"`)); }

  async destroy(): Promise<void> {
    await this.#last;
    await this.#connection?.close();
  }
}

class SqliteConnection implements DatabaseConnection {
  readonly #handle: sqlite3.Database;
  /** the least recently used first */
  readonly #statements = new Map<string, sqlite3.Statement>();

  constructor(handle: sqlite3.Database) {
    this.#handle = handle;
  }

  async executeQuery<R>(query: CompiledQuery): Promise<QueryResult<R>> {
    for (const value of query.parameters) assertBindable(value, query.sql);
    const statement = await this.#prepare(query.sql);
    if (returnsRows(query)) {
      return new Promise((resolve, reject) => {
        statement.all<R>([...query.parameters], (error, rows) => error ? reject(error) : resolve({ rows }));
      });
    }
    return new Promise((resolve, reject) => {
      statement.run([...query.parameters], function report(this: sqlite3.RunResult, error: Error | null) {
        if (error) reject(error);
        else resolve({ rows: [], insertId: BigInt(this.lastID), numAffectedRows: BigInt(this.changes) });
      });
    });
  }

  // eslint-disable-next-line require-yield
  async *streamQuery(): AsyncIterableIterator<never> {
    throw new Error('this database reads by pages of keys, not by stepping through one query');
  }

  async close(): Promise<void> {
    await Promise.all([...this.#statements.values()].map((statement) => new Promise<void>((resolve) => statement.finalize(() => resolve()))));
    this.#statements.clear();
    await new Promise<void>((resolve, reject) => this.#handle.close((error) => error ? reject(error) : resolve()));
  }

  async #prepare(sql: string): Promise<sqlite3.Statement> {
    const kept = this.#statements.get(sql);
    if (kept) {
      this.#statements.delete(sql);
      this.#statements.set(sql, kept);
      return kept;
    }
    const statement = await new Promise<sqlite3.Statement>((resolve, reject) => {
      const prepared: sqlite3.Statement = this.#handle.prepare(sql, (error: Error | null) => error ? reject(error) : resolve(prepared));
    });
    this.#statements.set(sql, statement);
    if (this.#statements.size > STATEMENTS_KEPT) {
      const [oldest, unused] = this.#statements.entries().next().value!;
      this.#statements.delete(oldest);
      unused.finalize();
    }
    return statement;
  }
}

function returnsRows(query: CompiledQuery): boolean {
  const node = query.query;
  return SelectQueryNode.is(node) || node.kind === 'RawNode' || ('returning' in node && node.returning !== undefined);
}
