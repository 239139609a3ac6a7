import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Errand } from '../client/index.ts';
import { DeviceStore } from './device-store.ts';
import type { ErrandQueue } from './errand-queue.ts';
import { KeptDevice } from './kept-device.ts';
import { LastingStorage } from './lasting.ts';
import { NewsChannel } from './news.ts';
import { openDatabase, type Database } from './open-database.ts';

const NAME = 'kept-device-test';
let databases: Database[];
let marks: Map<string, string>;
beforeEach(() => { databases = []; marks = new Map(); });
afterEach(async () => {
  for (const database of databases) database.close();
  await deleteDB(NAME);
});

const moment = (minute: number): string => `2026-11-25T10:${String(minute).padStart(2, '0')}:00.000Z`;
const reserve: Errand = { kind: 'reserve', body: { id: '00000000-0000-4000-8000-000000000001', partId: 'p', qty: 2, jobId: 'j', at: moment(1) } };

async function openDevice(storage?: ConstructorParameters<typeof LastingStorage>[0]['storage']) {
  const store = new DeviceStore({
    open: async (news) => { const database = await openDatabase(news, NAME); databases.push(database); return database; },
    newId: () => 'device', now: () => new Date(moment(0)), marks: { getItem: (key) => marks.get(key) ?? null, setItem: (key, value) => { marks.set(key, value); } },
  });
  const news = new NewsChannel(undefined);
  const called: string[] = [];
  const note = (what: string) => (...name: unknown[]): Promise<void> => { called.push([what, ...name].join(' ')); return Promise.resolve(); };
  const device = new KeptDevice({
    store, news, storage: new LastingStorage({ storage }), ageOf: () => undefined, wake: () => { called.push('wake'); },
    errands: { tryAgain: note('errand again'), drop: note('errand dropped') } as unknown as ErrandQueue,
    edits: { tryAgain: note('edits again'), drop: note('edits dropped') },
    photographs: { tryAgain: note('picture again'), drop: note('picture dropped'), sentBytesOf: () => 40 },
  });
  await device.start();
  const keep = async (): Promise<void> => {
    await store.write(['edits', 'requests', 'photographs'], async (writing) => {
      for (const minute of [5, 3]) await writing.objectStore('edits').add({ jobId: 'j', edits: [], inverse: [], at: moment(minute) });
      await writing.objectStore('edits').add({ jobId: 'k', edits: [], inverse: [], at: moment(9), answer: { kind: 'refused', words: 'no', at: moment(10) } });
      await writing.objectStore('requests').add({ ...reserve, jobId: 'j', at: moment(1) });
      await writing.objectStore('photographs').put({ jobId: 'j', hash: 'h', picture: new Blob([new Uint8Array(100)]), at: moment(7), waitingSince: moment(7) });
      await writing.objectStore('photographs').put({ jobId: 'j', hash: 'sent', picture: new Blob(['x']), at: moment(8) });
    });
    news.tell({ kind: 'waiting' });
    await device.count();
  };
  return { device, store, news, called, keep };
}

describe('this device as the screens see it', () => {
  it('lists what waits, the longest first: changes one line a job, a photograph with what has arrived of it', async () => {
    const { device, keep } = await openDevice();
    await keep();
    expect(device.waiting.map(({ what, jobId, count, since, answer, photograph }) => [what, jobId, count, since.slice(14, 16), answer?.words, photograph])).toEqual([
      ['reserve', 'j', 1, '01', undefined, undefined], ['changes', 'j', 2, '03', undefined, undefined],
      ['photograph', 'j', 1, '07', undefined, { hash: 'h', bytes: 100, sentBytes: 40 }], ['changes', 'k', 1, '09', 'no', undefined],
    ]);
    expect(device.waiting[0]!.errand).toEqual(reserve);
  });

  it('hands what was refused to the queue it lies in', async () => {
    const { device, called, keep } = await openDevice();
    await keep();
    for (const { key } of device.waiting) {
      await device.tryAgain(key);
      await device.drop(key);
    }
    expect(called).toEqual([
      'errand again 1', 'errand dropped 1', 'edits again j', 'edits dropped j', 'picture again j h', 'picture dropped j h', 'edits again k', 'edits dropped k',
    ]);
  });

  it('notes beside the store what waits, so that its loss can be told', async () => {
    const { device, keep } = await openDevice();
    await keep();
    for (const database of databases.splice(0)) database.close();
    await deleteDB(NAME);
    const again = await openDevice();
    expect([again.device.evicted, again.device.waiting]).toEqual([{ waiting: 4, since: moment(1) }, []]);
    again.device.forgetEviction();
    expect(again.device.evicted).toBeUndefined();
    expect(device.trouble).toBeUndefined();
  });

  it('tells that the browser does not keep the page itself', async () => {
    const { device } = await openDevice();
    let told = 0;
    device.addEventListener('change', () => { told += 1; });
    expect(device.keepsPage).toBe(true);
    device.noteKeepsPage(false);
    expect([device.keepsPage, told]).toEqual([false, 1]);
  });

  it('tells whether the server was reached, once for each change', async () => {
    const { device, news } = await openDevice();
    let told = 0;
    device.addEventListener('change', () => { told += 1; });
    for (const reach of ['unreachable', 'unreachable', 'signed-out', 'reached'] as const) news.tell({ kind: 'reach', reach });
    expect([told, device.reach]).toEqual([3, 'reached']);
  });

  it('asks the browser to keep the store when there is something to lose, not before, and once', async () => {
    const asked: string[] = [];
    const { device, news, keep } = await openDevice({
      persisted: () => Promise.resolve(false), persist: () => { asked.push('persist'); return Promise.resolve(true); }, estimate: () => Promise.resolve({ usage: 5, quota: 10 }),
    });
    expect([asked, device.lasting, device.space]).toEqual([[], 'not-asked', { used: 5, quota: 10 }]);
    await keep();
    news.tell({ kind: 'waiting' });
    await device.count();
    expect([asked, device.lasting]).toEqual([['persist'], 'asked-and-granted']);
  });

  it.each([
    ['a browser without such a promise', undefined, 'cannot-be-asked'],
    ['one that refuses', { persisted: () => Promise.resolve(false), persist: () => Promise.resolve(false), estimate: () => Promise.resolve({}) }, 'asked-and-refused'],
    ['one that fails at it', { persisted: () => Promise.reject(new Error('no')), persist: () => Promise.reject(new Error('no')), estimate: () => Promise.resolve({}) }, 'asked-and-refused'],
    ['one that promised before', { persisted: () => Promise.resolve(true), persist: () => Promise.reject(new Error('asked again')), estimate: () => Promise.resolve({}) }, 'asked-and-granted'],
  ] as const)('says what %s promises', async (_what, storage, lasting) => {
    const { device, keep } = await openDevice(storage);
    await keep();
    expect(device.lasting).toBe(lasting);
  });
});
