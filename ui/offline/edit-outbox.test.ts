import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { documentRecordOf, stateOfLog, type JobEdit, type JobState, type LoggedEdit } from '../../catalog-schema/index.ts';
import { actIdOf, JobSheet, ServiceFault, StoreFault, type Act, type ServiceFaultKind } from '../client/index.ts';
import { DeviceStore } from './device-store.ts';
import { EditOutbox } from './edit-outbox.ts';
import { NewsChannel } from './news.ts';
import { openDatabase, type Database } from './open-database.ts';

const NAME = 'edit-outbox-test';
const at = '2026-11-25T08:00:00.000Z';
const id = (n: number, kind = 0): string => `0000000${kind}-0000-4000-8000-${String(n).padStart(12, '0')}`;
const [JOB, OTHER] = [id(1, 9), id(2, 9)];
const record = { system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud' as const }] };

const open: Database[] = [];
let logs: Map<string, LoggedEdit[]>;
/** what the next calls are answered with in place of the server's answer, in order */
let faults: (ServiceFaultKind | 'loses-the-answer' | undefined)[];
let posted: string[];
let n = 100;
const newId = (): string => id(n += 1);

beforeEach(() => {
  logs = new Map([JOB, OTHER].map((jobId, index) => [jobId, [
    { id: id(10 + index), field: ['title'], value: 'Pump', base: 0, at }, { id: id(20 + index), field: ['record'], value: documentRecordOf(record), base: 1, at },
  ]]));
  faults = [];
  posted = [];
});
afterEach(async () => {
  for (const database of open.splice(0)) database.close();
  await deleteDB(NAME);
});

const service = { postEdits: async (jobId: string, edits: readonly JobEdit[]): Promise<JobState> => {
  posted.push(String(edits[0]!.value));
  const fault = faults.shift();
  if (fault !== undefined && fault !== 'loses-the-answer') throw new ServiceFault(fault, `said ${fault}`);
  const log = logs.get(jobId)!;
  log.push(...edits.filter((edit) => !log.some((each) => each.id === edit.id)));
  if (fault !== undefined) throw new ServiceFault('unreachable', '');
  return stateOfLog(jobId, log);
} };

/** A page of the device: its own outbox over the one store. */
async function openPage(news = new NewsChannel(undefined)) {
  const store = new DeviceStore({ open: async (told) => { const database = await openDatabase(told, NAME); open.push(database); return database; }, newId, now: () => new Date(at), marks: undefined });
  await store.start();
  const wake = vi.fn();
  return { store, wake, outbox: new EditOutbox({ service, store, news, wake, now: () => new Date(at), newId }) };
}
const makeAct = (value: string, jobId = JOB): Act => ({ jobId, edits: [{ id: newId(), field: ['notes'], value, base: 2, at, device: id(1, 8) }], inverse: [{ field: ['notes'], value: null }], at });
const valuesOf = (acts: readonly Act[]): unknown[] => acts.map((act) => act.edits[0]!.value);

describe('acts on their way', () => {
  it('outlive the page, are sent in order, and leave with the server\'s answer kept', async () => {
    const first = await openPage();
    expect(await first.outbox.keep(makeAct('a'))).toBe('kept');
    await first.outbox.keep(makeAct('b'));
    expect(first.wake).toHaveBeenCalledTimes(2);
    const next = await openPage();
    expect(valuesOf((await next.outbox.read(JOB)).acts)).toEqual(['a', 'b']);
    expect(await next.outbox.drain()).toBe('empty');
    expect(posted).toEqual(['a', 'b']);
    expect(await next.outbox.read(JOB)).toMatchObject({ state: { revision: 4, document: { notes: 'b' } }, acts: [] });
    expect(next.outbox.device).toBe(first.outbox.device);
  });

  it('wait while the server is not reached or asks who is there, and are sent again when the answer was lost', async () => {
    const { outbox } = await openPage();
    await outbox.keep(makeAct('a'));
    faults = ['unreachable', 'signed-out', 'loses-the-answer'];
    expect([await outbox.drain(), await outbox.drain(), await outbox.drain()]).toEqual(['unreachable', 'signed-out', 'unreachable']);
    expect((await outbox.read(JOB)).acts).toHaveLength(1);
    expect(await outbox.drain()).toBe('empty');
    expect(logs.get(JOB)).toHaveLength(3);
  });

  it('of one job keep their order where the server failed at it, and the others go on', async () => {
    const { outbox } = await openPage();
    for (const act of [makeAct('a'), makeAct('b'), makeAct('c', OTHER)]) await outbox.keep(act);
    faults = ['failed'];
    expect(await outbox.drain()).toBe('unreachable');
    expect(posted).toEqual(['a', 'c']);
    expect(await outbox.drain()).toBe('empty');
    expect(posted).toEqual(['a', 'c', 'a', 'b']);
  });

  it('that are refused stay with what the server said, do not stop the others, and are sent again or dropped when a person says so', async () => {
    const { outbox } = await openPage();
    for (const value of ['a', 'b']) await outbox.keep(makeAct(value));
    faults = ['refused'];
    expect(await outbox.drain()).toBe('empty');
    expect(posted).toEqual(['a', 'b']);
    const [refused] = (await outbox.read(JOB)).acts;
    expect(refused).toMatchObject({ answer: { kind: 'refused', words: 'said refused', at } });
    expect(await outbox.drain()).toBe('empty');
    expect(posted).toHaveLength(2);
    await outbox.tryAgain(JOB);
    faults = ['not-found'];
    await outbox.drain();
    expect((await outbox.read(JOB)).acts).toMatchObject([{ answer: { kind: 'not-found' } }]);
    await outbox.drop(JOB);
    expect((await outbox.read(JOB)).acts).toEqual([]);
  });

  it('give their place to another act in one breath', async () => {
    const { outbox } = await openPage();
    const act = makeAct('a');
    await outbox.keep(act);
    faults = ['refused'];
    await outbox.drain();
    await outbox.replace(JOB, actIdOf(act), makeAct('mended'));
    expect(valuesOf((await outbox.read(JOB)).acts)).toEqual(['mended']);
  });
});

describe('where the store fails', () => {
  it('acts wait in memory, are sent all the same, and go into the store in their order once it can', async () => {
    const { outbox, store } = await openPage();
    await outbox.keep(makeAct('a'));
    const write = vi.spyOn(store, 'write').mockRejectedValue(new StoreFault('full'));
    expect(await outbox.keep(makeAct('b'))).toBe('in-memory');
    write.mockRestore();
    expect(await outbox.keep(makeAct('c'))).toBe('kept');
    expect(valuesOf((await outbox.read(JOB)).acts)).toEqual(['a', 'b', 'c']);
  });

  it('what is sent is not sent for ever, though the store cannot let go of it', async () => {
    const { outbox, store } = await openPage();
    await outbox.keep(makeAct('a'));
    vi.spyOn(store, 'write').mockRejectedValue(new StoreFault('full'));
    expect(await outbox.keep(makeAct('b'))).toBe('in-memory');
    expect(await outbox.drain()).toBe('empty');
    expect(posted).toEqual(['a', 'b']);
    expect(await outbox.read(JOB)).toMatchObject({ acts: [], state: { document: { notes: 'b' } } });
  });

  it('there is an act all the same where the browser has no store at all', async () => {
    const store = { id: '', read: async () => undefined, write: async () => { throw new StoreFault('unusable'); } } as unknown as DeviceStore;
    const outbox = new EditOutbox({ service, store, news: new NewsChannel(undefined), wake: () => {}, now: () => new Date(at), newId });
    expect(await outbox.keep(makeAct('a'))).toBe('in-memory');
    expect(await outbox.drain()).toBe('empty');
    expect(await outbox.read(JOB)).toMatchObject({ acts: [], state: { document: { notes: 'a' } } });
    expect(outbox.device).toBe(outbox.device);
  });
});

it('two pages of one device show each other\'s acts, and what the server said to them', async () => {
  const news = new NewsChannel(undefined);
  const [one, two] = [await openPage(news), await openPage(news)];
  const world = { now: () => new Date(at), newId, author: () => 'A' };
  const state = stateOfLog(JOB, logs.get(JOB)!);
  const [left, right] = [new JobSheet(state, one.outbox, world), new JobSheet(state, two.outbox, world)];
  left.change([{ field: ['notes'], value: 'left' }]);
  await vi.waitFor(() => expect(right.document.notes).toBe('left'));
  expect(right.sendState.waiting).toBe(1);
  faults = ['refused'];
  await two.outbox.drain();
  await vi.waitFor(() => expect(left.refused).toHaveLength(1));
  expect(left.document.notes).toBeUndefined();
  left.mendRefused(left.refused[0]!.actId, [{ field: ['notes'], value: 'mended' }]);
  await vi.waitFor(() => expect(right.document.notes).toBe('mended'));
  await one.outbox.drain();
  await vi.waitFor(() => expect([left.sendState.waiting, right.sendState.waiting, right.revision]).toEqual([0, 0, 3]));
});
