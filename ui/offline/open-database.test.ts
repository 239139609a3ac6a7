import 'fake-indexeddb/auto';
import { deleteDB, openDB } from 'idb';
import { afterEach, describe, expect, it } from 'vitest';
import { openDatabase, type Database, type DatabaseNews } from './open-database.ts';

const NAME = 'open-database-test';
const heard: string[] = [];
const news: DatabaseNews = { outdated: () => heard.push('outdated'), lost: () => heard.push('lost'), blocked: () => heard.push('blocked') };
const open: Database[] = [];
const openHere = async (version?: number): Promise<Database> => {
  const database = await openDatabase(news, NAME, version);
  open.push(database);
  return database;
};
afterEach(async () => {
  for (const database of open.splice(0)) database.close();
  heard.length = 0;
  await deleteDB(NAME);
});

const at = '2026-11-25T10:00:00.000Z';
const act = { jobId: 'j', edits: [], inverse: [], at };

describe('the device\'s store', () => {
  it('keeps acts in the order they were made, and finds those of one job', async () => {
    const database = await openHere();
    for (const jobId of ['j', 'k', 'j']) await database.add('edits', { ...act, jobId });
    expect(await database.getAllKeysFromIndex('edits', 'job', 'j')).toEqual([1, 3]);
  });

  it('gives a key that was used never again, also after all acts were sent', async () => {
    const database = await openHere();
    const first = await database.add('edits', act);
    await database.delete('edits', first);
    expect(await database.add('edits', act)).toBeGreaterThan(first);
  });

  it('has as its queue of photographs those that wait, the longest waiting first', async () => {
    const database = await openHere();
    const picture = new Blob(['x']);
    await database.put('photographs', { jobId: 'j', hash: 'late', picture, at, waitingSince: '2026-11-25T11:00:00.000Z' });
    await database.put('photographs', { jobId: 'j', hash: 'sent', picture, at });
    await database.put('photographs', { jobId: 'j', hash: 'early', picture, at, waitingSince: at });
    expect((await database.getAllKeysFromIndex('photographs', 'waiting')).map(([, hash]) => hash)).toEqual(['early', 'late']);
  });

  it('lets go for a newer version of the product, whose page finds all that waited', async () => {
    const database = await openHere();
    await database.add('edits', act);
    const newer = await openDB(NAME, 99, { upgrade: (next) => { next.createObjectStore('later'); } });
    expect(heard).toEqual(['outdated']);
    expect(await newer.getAll('edits')).toEqual([act]);
    await expect(database.add('edits', act)).rejects.toThrow();
    newer.close();
  });

  it('is not opened by a page older than what made it, and keeps what it holds', async () => {
    const newer = await openDB(NAME, 99, { upgrade: (next) => { next.createObjectStore('edits', { autoIncrement: true }); } });
    await newer.add('edits', act);
    newer.close();
    await expect(openHere()).rejects.toMatchObject({ name: 'VersionError' });
    const again = await openDB(NAME);
    expect(await again.getAll('edits')).toEqual([act]);
    again.close();
  });
});
