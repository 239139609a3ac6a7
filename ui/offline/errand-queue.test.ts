import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ServiceFault, type Errand, type Service, type ServiceFaultKind } from '../client/index.ts';
import { DeviceStore } from './device-store.ts';
import { ErrandQueue } from './errand-queue.ts';
import { NewsChannel } from './news.ts';
import { openDatabase, type Database } from './open-database.ts';
import { Sender } from './sender.ts';

const NAME = 'errand-queue-test';
const at = '2026-11-25T10:00:00.000Z';
const jobId = '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b';
const idOf = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const startJob: Errand = { kind: 'start-job', body: { id: jobId, title: 'Pump', record: { system: { nominalV: 12 } }, at } };
const reserve = (n: number): Errand => ({ kind: 'reserve', body: { id: idOf(n), partId: 'p', qty: 1, jobId, at } });
const release = (n: number): Errand => ({ kind: 'release', body: { id: idOf(n), jobId } });

let databases: Database[];
beforeEach(() => { databases = []; });
afterEach(async () => {
  for (const database of databases) database.close();
  await deleteDB(NAME);
});

/** A shop in memory that does each id once, and a page that sends to it. */
function makeShop() {
  const shop = { says: undefined as ServiceFaultKind | undefined, losesAnswers: false, done: [] as string[], free: Infinity };
  const take = async (name: string, repeatable = true): Promise<never> => {
    if (shop.says !== undefined) throw new ServiceFault(shop.says, `shop: ${shop.says}`);
    if (!(repeatable && shop.done.includes(name))) {
      if (name.startsWith('reserve')) {
        if (!shop.done.includes('start') && !shop.done.includes(name)) throw new ServiceFault('refused', 'jobId: not the id of a job');
        if (shop.free === 0) throw new ServiceFault('taken', '1 of p asked for, 0 free');
        shop.free -= 1;
      }
      shop.done.push(name);
    }
    if (shop.losesAnswers) throw new ServiceFault('unreachable', '');
    return { id: jobId, revision: 2 } as never;
  };
  const service = {
    startJob: () => take('start'), reserve: ({ id }: { id: string }) => take(`reserve ${id.slice(-1)}`),
    recordMoves: (moves: readonly { id: string }[]) => take(`moves ${moves.map(({ id }) => id.slice(-1)).join('')}`),
    releaseReservation: (id: string) => (shop.done.includes(`reserve ${id.slice(-1)}`) ? take(`release ${id.slice(-1)}`) : Promise.reject(new ServiceFault('not-found', ''))),
  } as unknown as Service;
  return { shop, openPage: (patience = false) => openPage(service, patience) };
}

function openPage(service: Service, patience: boolean) {
  const store = new DeviceStore({
    open: async (news) => { const database = await openDatabase(news, NAME); databases.push(database); return database; },
    newId: () => 'device', now: () => new Date(at), marks: undefined,
  });
  const news = new NewsChannel(undefined);
  const errands: ErrandQueue = new ErrandQueue(store, service, news, {
    now: () => new Date(at), wake: () => sender.wake(), pause: () => (patience ? new Promise(() => {}) : new Promise((resolve) => { setTimeout(resolve, 30); })),
  });
  const sender: Sender = new Sender([errands.starts, errands.others], news, { locks: undefined, later: () => () => {} });
  const kept = async () => (await store.read((database) => database.getAll('requests'))) ?? [];
  return { errands, sender, store, kept };
}

describe('errands of this device', () => {
  it('are done at once where the server is reached, and nothing is left waiting', async () => {
    const { shop, openPage } = makeShop();
    const { errands, kept } = openPage();
    expect([await errands.submit(startJob), await errands.submit(reserve(1)), shop.done, await kept()]).toEqual(['sent', 'sent', ['start', 'reserve 1'], []]);
  });

  it('wait without a network, outlive the page, and are sent once and in order by the next one', async () => {
    const { shop, openPage } = makeShop();
    shop.says = 'unreachable';
    const first = openPage();
    expect([await first.errands.submit(reserve(1)), await first.errands.submit(startJob), await first.errands.submit(release(1))]).toEqual(['waiting', 'waiting', 'waiting']);
    expect((await first.store.read((database) => database.get('jobs', jobId)))?.document.title).toBe('Pump');
    shop.says = undefined;
    const second = openPage();
    await second.sender.wake();
    await second.sender.wake();
    // The new job goes first, whatever was asked for before it.
    expect([shop.done, await second.kept()]).toEqual([['start', 'reserve 1', 'release 1'], []]);
  });

  it('are sent again when only the answer was lost, and are done once', async () => {
    const { shop, openPage } = makeShop();
    const { errands, sender, kept } = openPage();
    await errands.submit(startJob);
    shop.losesAnswers = true;
    expect(await errands.submit(reserve(1))).toBe('waiting');
    shop.losesAnswers = false;
    await sender.wake();
    expect([shop.done, await kept()]).toEqual([['start', 'reserve 1'], []]);
  });

  it('say a no at once to the person who looks at it, and keep nothing of it', async () => {
    const { shop, openPage } = makeShop();
    const { errands, kept } = openPage(true);
    await errands.submit(startJob);
    shop.free = 0;
    await expect(errands.submit(reserve(1))).rejects.toMatchObject({ kind: 'taken', detail: '1 of p asked for, 0 free' });
    expect(await kept()).toEqual([]);
  });

  it('keep a no that comes later beside what was asked for, until a person tries again or drops it', async () => {
    const { shop, openPage } = makeShop();
    const { errands, sender, store, kept } = openPage();
    await errands.submit(startJob);
    shop.says = 'unreachable';
    await errands.submit(reserve(1));
    await errands.submit(reserve(2));
    shop.says = undefined;
    shop.free = 1;
    await sender.wake();
    expect((await kept()).map((request) => request.answer)).toEqual([{ kind: 'taken', words: '1 of p asked for, 0 free', at }]);
    await sender.wake();
    const [key] = (await store.read((database) => database.getAllKeys('requests')))!;
    shop.free = 1;
    await errands.tryAgain(key!);
    await sender.wake();
    expect([shop.done, await kept()]).toEqual([['start', 'reserve 1', 'reserve 2'], []]);
  });

  it('stay where they are while the session has ended', async () => {
    const { shop, openPage } = makeShop();
    shop.says = 'signed-out';
    const { errands, sender, kept } = openPage();
    expect(await errands.submit(startJob)).toBe('waiting');
    expect((await kept()).map(({ kind, answer }) => [kind, answer])).toEqual([['start-job', undefined]]);
    shop.says = undefined;
    await sender.wake();
    expect([shop.done, await kept()]).toEqual([['start'], []]);
  });

  it('do not hold up one another when the server fails at one of them', async () => {
    const { shop, openPage } = makeShop();
    const { errands, kept } = openPage();
    await errands.submit(startJob);
    shop.says = 'failed';
    expect(await errands.submit(reserve(1))).toBe('waiting');
    expect((await kept())[0]!.answer).toMatchObject({ kind: 'failed', words: 'shop: failed' });
    shop.says = undefined;
    await errands.submit(reserve(2));
    expect([shop.done, await kept()]).toEqual([['start', 'reserve 1', 'reserve 2'], []]);
  });

  it('are sent while the person waits where the device cannot keep them, or said to be not done', async () => {
    const { shop } = makeShop();
    const service = { startJob: async () => { if (shop.says !== undefined) throw new ServiceFault(shop.says, ''); shop.done.push('start'); return { id: jobId } as never; } } as unknown as Service;
    const store = new DeviceStore({ open: () => Promise.reject(new DOMException('', 'SecurityError')), newId: () => 'd', now: () => new Date(at), marks: undefined });
    const errands = new ErrandQueue(store, service, new NewsChannel(undefined), { now: () => new Date(at), wake: () => Promise.resolve(), pause: () => Promise.resolve() });
    expect([await errands.submit(startJob), shop.done]).toEqual(['sent', ['start']]);
    shop.says = 'unreachable';
    await expect(errands.submit(startJob)).rejects.toMatchObject({ name: 'StoreFault', kind: 'unusable' });
  });

  it('are moves of the shelf too, sent once and together however often the answer is lost', async () => {
    const { shop, openPage } = makeShop();
    const { errands, sender, kept } = openPage();
    shop.losesAnswers = true;
    const moves = [1, 2].map((n) => ({ id: idOf(n), kind: 'out' as const, partId: 'p', bin: 'A1', qty: 1, at }));
    expect(await errands.submit({ kind: 'moves', body: { moves } })).toBe('waiting');
    shop.losesAnswers = false;
    await sender.wake();
    expect([shop.done, await kept()]).toEqual([['moves 12'], []]);
  });
});
