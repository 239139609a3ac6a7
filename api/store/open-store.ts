import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { Kysely } from 'kysely';
import { Migrator } from 'kysely/migration';
import type { Db, Tables, Tx } from './database.ts';
import { MIGRATIONS } from './migrations/index.ts';
import { runGuarded, SqliteFileDialect } from './sqlite-dialect.ts';

export interface Store {
  /** Reads what has been committed, without waiting for writers. */
  readonly db: Db;
  /**
   * Runs `work` in one transaction: all of it or, when it throws, nothing. Writers take turns.
   * Only `tx` may write within it; another `transact` inside throws.
   */
  transact<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/**
 * Opens a database file, made where it is missing, and brings its tables up to this version.
 * @throws where the file is not a database of ours, or was written by a later version.
 */
export async function openStore(file: string): Promise<Store> {
  mkdirSync(dirname(file), { recursive: true });
  const writer = new Kysely<Tables>({ dialect: new SqliteFileDialect({ file }) });
  try {
    await bringUpToDate(writer, file);
  } catch (error) {
    await writer.destroy();
    throw error;
  }
  const reader = new Kysely<Tables>({ dialect: new SqliteFileDialect({ file, readOnly: true }) });
  return {
    db: reader,
    transact: (work) => runGuarded(() => writer.transaction().execute(work)),
    close: async () => {
      await reader.destroy();
      await writer.destroy();
    },
  };
}

async function bringUpToDate(db: Kysely<Tables>, file: string): Promise<void> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } });
  const later = (await db.introspection.getTables({ withInternalKyselyTables: true })).some((table) => table.name === 'kysely_migration')
    ? (await db.withTables<{ kysely_migration: { name: string } }>().selectFrom('kysely_migration').select('name').execute())
      .filter((row) => MIGRATIONS[row.name] === undefined)
    : [];
  if (later.length > 0) {
    throw new Error(`${file} was written by a later version (it knows ${later.map((row) => row.name).join(', ')}): start that version`);
  }
  const { error } = await migrator.migrateToLatest();
  if (error !== undefined) throw new Error(`${file} could not be brought up to date`, { cause: error });
}
