import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { stateOfNewJob, type JobState, type Prices } from '../../catalog-schema/index.ts';
import { ServiceFault, type Service, type ServiceFaultKind } from '../client/index.ts';
import { DeviceStore } from './device-store.ts';
import { NewsChannel } from './news.ts';
import { OfflineService } from './offline-service.ts';
import { openDatabase, type Database } from './open-database.ts';

const NAME = 'offline-service-test';
let databases: Database[];
beforeEach(() => { databases = []; });
afterEach(async () => {
  for (const database of databases) database.close();
  await deleteDB(NAME);
});

const at = '2026-11-25T10:00:00.000Z';
const start = (n: number, title: string) => ({ id: `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`, title, record: { system: { nominalV: 12 } }, at });
const jobOf = (n: number, title: string, revision = 2, changedAt = at): JobState => ({ ...stateOfNewJob(start(n, title)), revision, changedAt });
const prices: Prices = { currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [], offers: [] };

/** A server in memory that answers, is not there, or never answers at all. */
function makeService() {
  const server = { says: undefined as ServiceFaultKind | 'nothing' | undefined, jobs: [jobOf(1, 'One')], prices, asked: [] as string[] };
  const answer = async <T>(name: string, value: () => T): Promise<T> => {
    server.asked.push(name);
    if (server.says === 'nothing') return new Promise<T>(() => {});
    if (server.says !== undefined) throw new ServiceFault(server.says, '');
    return structuredClone(value());
  };
  const find = (id: string): JobState => {
    const job = server.jobs.find((each) => each.id === id);
    if (job === undefined) throw new ServiceFault('not-found', '');
    return job;
  };
  const reservation = { id: start(9, '').id, partId: 'p', qty: 1, at, bin: 'A1' };
  const service = {
    listJobs: () => answer('jobs', () => server.jobs), readJob: (id: string) => answer('job', () => find(id)), readPrices: () => answer('prices', () => server.prices),
    readShelf: () => answer('shelf', () => []),
    listReservations: () => answer('reservations', () => [{ ...reservation, jobId: start(1, '').id }, { ...reservation, jobId: start(2, '').id }]),
  } as unknown as Service;
  return { server, service };
}

/** What was answered is kept behind the answer: read by the next page once that is done. */
const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 20); });

function openPage(service: Service, now = new Date('2026-11-25T12:00:00')) {
  const store = new DeviceStore({
    open: async (news) => { const database = await openDatabase(news, NAME); databases.push(database); return database; },
    newId: () => 'device', now: () => now, marks: undefined,
  });
  const pauses: (() => void)[] = [];
  const offline = new OfflineService(service, store, new NewsChannel(undefined), { now: () => now, pause: () => new Promise((resolve) => { pauses.push(resolve); }) });
  return { offline, store, pauses };
}

describe('reading with a memory', () => {
  it('gives the server\'s answer while it is reached, and the kept one with its age when it is not', async () => {
    const { server, service } = makeService();
    const first = openPage(service);
    expect((await first.offline.listJobs()).map(({ document }) => document.title)).toEqual(['One']);
    expect(first.offline.ageOf('jobs')).toBeUndefined();
    await settle();
    server.says = 'unreachable';
    const second = openPage(service);
    expect((await second.offline.listJobs()).map(({ document }) => document.title)).toEqual(['One']);
    expect((await second.offline.readJob(start(1, '').id)).document.title).toBe('One');
    expect(second.offline.ageOf('jobs')).toBeDefined();
    server.says = undefined;
    await second.offline.listJobs();
    expect(second.offline.ageOf('jobs')).toBeUndefined();
  });

  it('does not wait for ever for a server that does not answer', async () => {
    const { server, service } = makeService();
    await openPage(service).offline.readPrices();
    await settle();
    server.says = 'nothing';
    const { offline, pauses } = openPage(service);
    const reading = offline.readPrices();
    await expect.poll(() => pauses.length).toBe(1);
    pauses[0]!();
    expect(await reading).toEqual(prices);
  });

  it('counts days from today, not from the day the prices were read', async () => {
    const { server, service } = makeService();
    await openPage(service).offline.readPrices();
    await settle();
    server.says = 'unreachable';
    expect((await openPage(service, new Date('2026-11-28T12:00:00')).offline.readPrices()).today).toBe('2026-11-28');
    // A device whose clock is behind does not turn back the shop's.
    expect((await openPage(service, new Date('2020-01-01T12:00:00')).offline.readPrices()).today).toBe('2026-11-25');
  });

  it('says that a sign-in is wanted instead of showing what was kept for somebody', async () => {
    const { server, service } = makeService();
    await openPage(service).offline.listJobs();
    await settle();
    server.says = 'signed-out';
    await expect(openPage(service).offline.listJobs()).rejects.toMatchObject({ kind: 'signed-out' });
  });

  it('rejects what was never read', async () => {
    const { server, service } = makeService();
    await settle();
    server.says = 'unreachable';
    await expect(openPage(service).offline.readPrices()).rejects.toMatchObject({ kind: 'unreachable' });
    await expect(openPage(service).offline.readJob(start(1, '').id)).rejects.toMatchObject({ kind: 'unreachable' });
  });

  it('has the lists of a job that was never opened', async () => {
    const { server, service } = makeService();
    await openPage(service).offline.listReservations();
    await settle();
    server.says = 'unreachable';
    expect(await openPage(service).offline.listReservations(start(2, '').id)).toHaveLength(1);
  });

  it('shows a job that was begun here first, until the server has it', async () => {
    const { server, service } = makeService();
    const { offline, store } = openPage(service);
    const begun = stateOfNewJob({ ...start(2, 'Begun here'), at: '2026-11-25T11:00:00.000Z' });
    await store.write(['jobs', 'requests'], async (writing) => {
      await writing.objectStore('jobs').put(begun);
      await writing.objectStore('requests').add({ kind: 'start-job', body: start(2, 'Begun here'), at });
    });
    expect((await offline.listJobs()).map(({ document }) => document.title)).toEqual(['Begun here', 'One']);
    expect((await offline.readJob(begun.id)).document.title).toBe('Begun here');
    expect(server.asked).toEqual(['jobs']);
  });

  it('lists a job with what waits for it on top, and without what the server refused', async () => {
    const { server, service } = makeService();
    server.jobs = [jobOf(1, 'One'), jobOf(2, 'Two', 2, '2026-11-25T10:30:00.000Z')];
    const { offline, store } = openPage(service);
    await store.write(['edits'], async (writing) => {
      const edit = (value: string) => ({ id: start(7, '').id, field: ['title'], value, base: 2, at: '2026-11-25T11:00:00.000Z' });
      await writing.objectStore('edits').add({ jobId: start(1, '').id, edits: [edit('One, mended')], inverse: [], at: '2026-11-25T11:00:00.000Z' });
      await writing.objectStore('edits').add({ jobId: start(2, '').id, edits: [edit('no')], inverse: [], at, answer: { kind: 'refused', words: 'no', at } });
    });
    expect((await offline.listJobs()).map(({ document }) => document.title)).toEqual(['One, mended', 'Two']);
    await settle();
    expect((await store.read((database) => database.get('jobs', start(1, '').id)))?.document.title).toBe('One');
  });

  it('never replaces a newer state of a job by an older one', async () => {
    const { server, service } = makeService();
    const { offline, store } = openPage(service);
    await offline.listJobs();
    await settle();
    await store.write(['jobs'], (writing) => writing.objectStore('jobs').put(jobOf(1, 'Newer', 7)));
    await offline.listJobs();
    await settle();
    server.says = 'unreachable';
    expect((await offline.readJob(start(1, '').id)).revision).toBe(7);
  });
});
