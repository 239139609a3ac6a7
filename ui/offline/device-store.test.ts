import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DeviceStore } from './device-store.ts';
import type { KeptPhotograph } from './kept-shapes.ts';
import { openDatabase, type Database } from './open-database.ts';

const NAME = 'device-store-test';
const at = '2026-11-25T10:00:00.000Z';
const act = { jobId: 'j', edits: [], inverse: [], at };

/** A browser whose store is the test's, with room for as many further photographs and acts as it is told. */
let marks: Map<string, string>;
let open: Database[];
let room: number;
let ids: number;
beforeEach(() => { marks = new Map(); open = []; room = Infinity; ids = 0; });
afterEach(async () => {
  for (const database of open) database.close();
  await deleteDB(NAME);
});

function visit(opening?: () => Promise<Database>): DeviceStore {
  return new DeviceStore({
    open: opening ?? (async (news) => {
      const database = await openDatabase(news, NAME);
      open.push(database);
      return fillUp(database);
    }),
    newId: () => `device-${ids += 1}`, now: () => new Date(at),
    marks: { getItem: (key) => marks.get(key) ?? null, setItem: (key, value) => { marks.set(key, value); } },
  });
}

/** Fails a write once the room is used up, as a browser does: the request fails and the transaction is aborted. */
function fillUp(database: Database): Database {
  return new Proxy(database, {
    get(target, name) {
      if (name !== 'transaction') {
        const value = Reflect.get(target, name) as unknown;
        return typeof value === 'function' ? value.bind(target) : value;
      }
      return (...args: Parameters<Database['transaction']>) => {
        const transaction = target.transaction(...args);
        const found = (args[0] as string[]).includes('edits') && args[1] === 'readwrite';
        if (!found || room > 0) {
          if (found) room -= 1;
          return transaction;
        }
        transaction.done.catch(() => {});
        transaction.abort();
        const full = new DOMException('no room', 'QuotaExceededError');
        return { objectStore: () => ({ add: () => Promise.reject(full) }), done: Promise.reject(full) };
      };
    },
  });
}
const keep = (store: DeviceStore): Promise<number> => store.write(['edits'], (writing) => writing.objectStore('edits').add(act));
const photograph = (hash: string, waits: boolean): KeptPhotograph => ({ jobId: 'j', hash, picture: new Blob(['x']), at, ...(waits ? { waitingSince: at } : {}) });

describe('what this device keeps', () => {
  it('has an id of its own that stays from visit to visit', async () => {
    const first = visit();
    await first.start();
    expect(first.id).toBe('device-1');
    const second = visit();
    await second.start();
    expect([second.id, second.evicted]).toEqual(['device-1', undefined]);
  });

  it('is said to be gone, with what waited in it, when the browser has cleared it between two visits', async () => {
    const first = visit();
    await first.start();
    first.mark(3, at);
    for (const database of open.splice(0)) database.close();
    await deleteDB(NAME);
    const second = visit();
    let told = 0;
    second.addEventListener('change', () => { told += 1; });
    await second.start();
    expect([second.evicted, second.id, told]).toEqual([{ waiting: 3, since: at }, 'device-2', 1]);
    second.forgetEviction();
    const third = visit();
    await third.start();
    expect([second.evicted, third.evicted]).toEqual([undefined, undefined]);
  });

  it('says that the disk is full instead of pretending, keeps what it has, and goes on when there is room again', async () => {
    const store = visit();
    await keep(store);
    room = 0;
    await expect(keep(store)).rejects.toMatchObject({ name: 'StoreFault', kind: 'full' });
    expect([store.trouble, await store.read((database) => database.count('edits'))]).toEqual(['full', 1]);
    room = 1;
    await keep(store);
    expect([store.trouble, await store.read((database) => database.count('edits'))]).toEqual([undefined, 2]);
  });

  it('gives room by letting go of photographs the server has, never of those that wait', async () => {
    const store = visit();
    await store.write(['photographs'], async (writing) => {
      await writing.objectStore('photographs').put(photograph('sent', false));
      await writing.objectStore('photographs').put(photograph('waits', true));
    });
    room = 0;
    await keep(store).catch(() => {});
    expect(await store.read((database) => database.getAllKeys('photographs'))).toEqual([['j', 'waits']]);
  });

  it('is read as empty and refuses to keep where the browser bars it', async () => {
    const store = visit(() => Promise.reject(new DOMException('not in this window', 'SecurityError')));
    expect(await store.read((database) => database.getAll('edits'))).toBeUndefined();
    expect(store.trouble).toBe('unusable');
    await expect(keep(store)).rejects.toMatchObject({ kind: 'unusable' });
  });

  it('lets a page of a newer version have it, and says so at the next write', async () => {
    const store = visit();
    await keep(store);
    const newer = await openDatabase({ outdated: () => {}, lost: () => {}, blocked: () => {} }, NAME, 99);
    open.push(newer);
    expect(store.trouble).toBe('outdated');
    await expect(keep(store)).rejects.toMatchObject({ kind: 'outdated' });
    expect(await newer.getAll('edits')).toEqual([act]);
  });

  it('throws a mistake of ours as it is', async () => {
    const store = visit();
    await expect(store.write(['edits'], () => Promise.reject(new TypeError('ours')))).rejects.toThrow(TypeError);
    expect(store.trouble).toBeUndefined();
  });
});
