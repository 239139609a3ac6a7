import type { IDBPTransaction, StoreNames } from 'idb';
import { StoreFault, type StoreTrouble } from '../client/index.ts';
import type { OfflineSchema } from './kept-shapes.ts';
import type { Database, DatabaseNews } from './open-database.ts';

type Stores = StoreNames<OfflineSchema>[];
export type Writing = IDBPTransaction<OfflineSchema, Stores, 'readwrite'>;

/** What the store needs of the world, so that a test can bring its own. */
export interface StoreWorld {
  readonly open: (news: DatabaseNews) => Promise<Database>;
  readonly newId: () => string;
  readonly now: () => Date;
  /** a second, smaller store that the browser may clear at another time than the database: it tells that something was there */
  readonly marks: Pick<Storage, 'getItem' | 'setItem'> | undefined;
}

interface Mark { readonly store: string; readonly waiting: number; readonly since?: string }
const MARK = 'lugwright.kept';
const OWN_ID = 'id';

/**
 * This device's store: opened when first needed, and honest about what it cannot do. What it was asked to write is on the disk when the
 * promise resolves. Tells of a change of `trouble` or `evicted` by an event named 'change'.
 */
export class DeviceStore extends EventTarget {
  trouble: StoreTrouble | undefined;
  /** what waited in a store that the browser has cleared since the last visit */
  evicted: { waiting: number; since: string | undefined } | undefined;
  /** this device's own id, the same as long as the store lasts */
  id = '';
  #world: StoreWorld;
  #opened: Promise<Database> | undefined;

  constructor(world: StoreWorld) {
    super();
    this.#world = world;
  }

  /** Opens the store. Never rejects: what is wrong stands in `trouble`. */
  async start(): Promise<void> {
    await this.#open().catch(() => {});
  }

  /** Reads; undefined where there is no store to read from. */
  async read<T>(work: (database: Database) => Promise<T>): Promise<T | undefined> {
    try {
      return await work(await this.#open());
    } catch (error) {
      this.#noteTrouble(error);
      return undefined;
    }
  }

  /**
   * Writes in one transaction and resolves once it is on the disk. When the disk is full, what can be fetched again goes first.
   * @throws StoreFault when it could not be kept
   */
  async write<T>(stores: Stores, work: (writing: Writing) => Promise<T>): Promise<T> {
    try {
      const database = await this.#open();
      try {
        return this.#wrote(await writeOnce(database, stores, work));
      } catch (error) {
        if (!isFull(error)) throw error;
        await makeRoom(database);
        return this.#wrote(await writeOnce(database, stores, work));
      }
    } catch (error) {
      throw this.#noteTrouble(error) ?? error;
    }
  }

  /** Notes beside the store how much waits in it, so that its loss can be told. */
  mark(waiting: number, since: string | undefined): void {
    if (this.id === '') return;
    const mark: Mark = { store: this.id, waiting, ...(since === undefined ? {} : { since }) };
    try { this.#world.marks?.setItem(MARK, JSON.stringify(mark)); } catch { /* barred or full: a loss would then not be noticed */ }
  }

  forgetEviction(): void {
    this.evicted = undefined;
    this.dispatchEvent(new Event('change'));
  }

  #open(): Promise<Database> {
    this.#opened ??= this.#openNew();
    return this.#opened;
  }

  async #openNew(): Promise<Database> {
    try {
      const database = await this.#world.open({
        outdated: () => this.#turn('outdated'),
        // Opened anew it is found empty, and that is told.
        lost: () => { this.#opened = undefined; void this.start(); },
        blocked: () => {},
      });
      await this.#learnId(database);
      return database;
    } catch (error) {
      // A full disk may have room at the next try.
      this.#opened = undefined;
      this.#noteTrouble(error);
      throw error;
    }
  }

  async #learnId(database: Database): Promise<void> {
    const known = await database.get('device', OWN_ID);
    if (typeof known === 'string') {
      this.id = known;
      return;
    }
    const before = this.#readMark();
    if (before !== undefined) this.evicted = { waiting: before.waiting, since: before.since };
    const id = this.#world.newId();
    await writeOnce(database, ['device'], (writing) => writing.objectStore('device').put(id, OWN_ID));
    this.id = id;
    this.mark(0, undefined);
    if (this.evicted !== undefined) this.dispatchEvent(new Event('change'));
  }

  #readMark(): Mark | undefined {
    try {
      const mark = JSON.parse(this.#world.marks?.getItem(MARK) ?? 'null') as Partial<Mark> | null;
      return typeof mark?.store === 'string' && typeof mark.waiting === 'number' ? mark as Mark : undefined;
    } catch {
      return undefined;
    }
  }

  #wrote<T>(value: T): T {
    if (this.trouble === 'full') this.#turn(undefined);
    return value;
  }

  /** The error as a fault of the store, noted; undefined for one that is nothing of the store's. */
  #noteTrouble(error: unknown): StoreFault | undefined {
    const kind = this.trouble === 'outdated' ? this.trouble : troubleOf(error);
    if (kind === undefined) return undefined;
    this.#turn(kind);
    return new StoreFault(kind);
  }

  #turn(trouble: StoreTrouble | undefined): void {
    if (this.trouble === trouble) return;
    this.trouble = trouble;
    this.dispatchEvent(new Event('change'));
  }
}

async function writeOnce<T>(database: Database, stores: Stores, work: (writing: Writing) => Promise<T>): Promise<T> {
  const writing = database.transaction(stores, 'readwrite', { durability: 'strict' });
  try {
    const value = await work(writing);
    await writing.done;
    return value;
  } catch (error) {
    // The reason of an aborted transaction says more than that it was aborted.
    await writing.done.catch((reason: unknown) => { throw isFull(reason) ? reason : error; });
    throw error;
  }
}

/** Takes away the photographs that the server has too. The catalogue and the jobs stay: work goes on with them. */
async function makeRoom(database: Database): Promise<void> {
  const writing = database.transaction('photographs', 'readwrite');
  for (let cursor = await writing.store.openCursor(); cursor; cursor = await cursor.continue()) {
    if (cursor.value.waitingSince === undefined) await cursor.delete();
  }
  await writing.done;
}

function isFull(error: unknown): boolean {
  return error instanceof Error && error.name === 'QuotaExceededError';
}

function troubleOf(error: unknown): StoreTrouble | undefined {
  switch (error instanceof Error ? error.name : '') {
    case 'QuotaExceededError': return 'full';
    case 'VersionError': return 'too-new';
    // Barred by a setting or a private window, damaged files, no such store in this browser, a transaction that the browser ended.
    case 'SecurityError': case 'InvalidStateError': case 'UnknownError': case 'ReferenceError': case 'AbortError': return 'unusable';
    default: return undefined;
  }
}
