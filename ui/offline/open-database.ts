import { openDB, type IDBPDatabase, type IDBPTransaction, type StoreNames } from 'idb';
import type { OfflineSchema } from './kept-shapes.ts';

export type Database = IDBPDatabase<OfflineSchema>;
type Upgrade = IDBPTransaction<OfflineSchema, StoreNames<OfflineSchema>[], 'versionchange'>;

export const DATABASE_NAME = 'lugwright';

/**
 * What leads from each version of the database to the next, in order; a device may come from any of them, so a step that has been
 * released is never changed. No step takes anything away from `edits`, `requests` or `photographs`.
 */
const STEPS: readonly ((database: Database, upgrade: Upgrade) => void)[] = [
  (database) => {
    database.createObjectStore('jobs', { keyPath: 'id' });
    database.createObjectStore('edits', { autoIncrement: true }).createIndex('job', 'jobId');
    database.createObjectStore('requests', { autoIncrement: true }).createIndex('job', 'jobId');
    // Only what waits has the field, so the index is the queue.
    database.createObjectStore('photographs', { keyPath: ['jobId', 'hash'] }).createIndex('waiting', 'waitingSince');
    database.createObjectStore('kept');
    database.createObjectStore('device');
  },
];

/** What the page is told of its database while it is open. */
export interface DatabaseNews {
  /** Another page wants a newer version: this one is closed, and nothing more can be kept here until the page is loaded again. */
  readonly outdated: () => void;
  /** The browser has ended the connection, as when a person clears the site's data. */
  readonly lost: () => void;
  /** An older page still has it open; the opening goes on once that page has let go. */
  readonly blocked: () => void;
}

/**
 * Opens this device's store, upgraded to the newest version. Rejects where the browser bars it (private windows of some), where it is
 * full, or where it was made by a newer version of the product than this page.
 */
export function openDatabase(news: DatabaseNews, name = DATABASE_NAME, version = STEPS.length): Promise<Database> {
  return openDB<OfflineSchema>(name, version, {
    upgrade(database, from, to, transaction) {
      for (const step of STEPS.slice(from, to ?? STEPS.length)) step(database, transaction);
    },
    blocked: () => news.blocked(),
    blocking(_current, _blocked, event) {
      // What is being written is finished first: closing waits for open transactions.
      (event.target as IDBDatabase).close();
      news.outdated();
    },
    terminated: () => news.lost(),
  });
}
