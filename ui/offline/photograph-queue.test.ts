import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ServiceFault, type Service, type ServiceFaultKind, type UploadState } from '../client/index.ts';
import { DeviceStore } from './device-store.ts';
import { NewsChannel } from './news.ts';
import { openDatabase, type Database } from './open-database.ts';
import { PhotographQueue, PIECE_BYTES } from './photograph-queue.ts';

const NAME = 'photograph-queue-test';
const at = '2026-11-25T10:00:00.000Z';
let databases: Database[];
beforeEach(() => { databases = []; });
afterEach(async () => {
  for (const database of databases) database.close();
  await deleteDB(NAME);
});

/** A server that keeps bytes by offset, and can break off, lose an answer, or say no. */
function makeServer() {
  const server = {
    begun: new Map<string, { bytes: number; held: Uint8Array<ArrayBuffer> }>(), whole: new Set<string>(), says: undefined as ServiceFaultKind | undefined,
    /** pieces taken before the line is cut for good */
    cutAfter: Infinity, losesAnswers: false, pieces: [] as number[], reads: 0,
  };
  const stateOf = (hash: string): UploadState => ({ offset: server.begun.get(hash)?.held.length ?? 0, whole: server.whole.has(hash) });
  const refuse = (): void => { if (server.says !== undefined) throw new ServiceFault(server.says, `server: ${server.says}`); };
  const service = {
    beginUpload: async (_job: string, { hash, bytes }: { hash: string; bytes: number }) => {
      refuse();
      if (!server.begun.has(hash)) server.begun.set(hash, { bytes, held: new Uint8Array() });
      return stateOf(hash);
    },
    askUpload: async (_job: string, hash: string) => stateOf(hash),
    appendUpload: async (_job: string, hash: string, { offset, piece, last }: { offset: number; piece: Blob; last: boolean }) => {
      refuse();
      const upload = server.begun.get(hash)!;
      if (offset !== upload.held.length) throw new ServiceFault('taken', `at ${upload.held.length}`);
      if (server.pieces.length >= server.cutAfter) throw new ServiceFault('unreachable', '');
      upload.held = new Uint8Array([...upload.held, ...new Uint8Array(await piece.arrayBuffer())]);
      server.pieces.push(offset);
      if (last) server.whole.add(hash);
      if (server.losesAnswers) throw new ServiceFault('unreachable', '');
      return stateOf(hash);
    },
    readPhotograph: async () => { server.reads += 1; return new Blob(['from the server']); },
  } as unknown as Service;
  return { server, service };
}

function openPage(service: Service, opening?: () => Promise<Database>) {
  const store = new DeviceStore({
    open: opening ?? (async (news) => { const database = await openDatabase(news, NAME); databases.push(database); return database; }),
    newId: () => 'device', now: () => new Date(at), marks: undefined,
  });
  let wakes = 0;
  const photographs = new PhotographQueue(store, service, new NewsChannel(undefined), { now: () => new Date(at), wake: () => { wakes += 1; } });
  const waiting = async (): Promise<number> => (await store.read((database) => database.countFromIndex('photographs', 'waiting'))) ?? -1;
  return { photographs, store, waiting, wakes: () => wakes };
}

/** Bytes that differ from place to place, so that a piece put in twice or at the wrong place shows. */
const picture = new Blob([Uint8Array.from({ length: PIECE_BYTES * 2 + 77 }, (_, n) => (n * 31 + (n >> 8)) % 256)], { type: 'image/jpeg' });
const bytesOf = async (blob: Blob): Promise<Uint8Array> => new Uint8Array(await blob.arrayBuffer());

describe('photographs of this device', () => {
  it('serve at once, go in pieces, and stay to be shown', async () => {
    const { server, service } = makeServer();
    const { photographs, waiting, wakes } = openPage(service);
    await photographs.keep('j', 'h', picture);
    expect([await waiting(), wakes(), photographs.stateOf('h')]).toEqual([1, 1, { kind: 'waiting', sentBytes: 0, bytes: picture.size }]);
    expect(await photographs.find('j', 'h')).toBe(picture);
    expect(await photographs.drain()).toBe('empty');
    expect([server.pieces, await waiting(), server.reads]).toEqual([[0, PIECE_BYTES, PIECE_BYTES * 2], 0, 0]);
    expect(server.begun.get('h')!.held).toEqual(await bytesOf(picture));
    const later = openPage(service);
    expect([(await later.photographs.find('j', 'h')).size, server.reads]).toEqual([picture.size, 0]);
  });

  it('go on where they broke off, also in another page after a cut', async () => {
    const { server, service } = makeServer();
    const first = openPage(service);
    await first.photographs.keep('j', 'h', picture);
    server.cutAfter = 2;
    expect(await first.photographs.drain()).toBe('unreachable');
    expect([server.pieces, await first.waiting(), first.photographs.sentBytesOf('j', 'h')]).toEqual([[0, PIECE_BYTES], 1, PIECE_BYTES * 2]);
    server.cutAfter = Infinity;
    const second = openPage(service);
    expect(await second.photographs.drain()).toBe('empty');
    expect([server.pieces, await second.waiting()]).toEqual([[0, PIECE_BYTES, PIECE_BYTES * 2], 0]);
    expect(server.begun.get('h')!.held).toEqual(await bytesOf(picture));
  });

  it('follow the server to where it is when an answer was lost', async () => {
    const { server, service } = makeServer();
    const { photographs } = openPage(service);
    await photographs.keep('j', 'h', picture);
    server.losesAnswers = true;
    for (let n = 0; n < 3; n++) expect(await photographs.drain()).toBe('unreachable');
    server.losesAnswers = false;
    expect(await photographs.drain()).toBe('empty');
    expect([server.pieces, server.begun.get('h')!.held.length]).toEqual([[0, PIECE_BYTES, PIECE_BYTES * 2], picture.size]);
  });

  it('that the server refuses stay, say why, hold up no other, and go again when a person says so', async () => {
    const { server, service } = makeServer();
    const { photographs, store, waiting } = openPage(service);
    await photographs.keep('j', 'bad', new Blob(['no picture']));
    server.says = 'refused';
    expect(await photographs.drain()).toBe('empty');
    server.says = undefined;
    await photographs.keep('j', 'h', picture);
    expect(await photographs.drain()).toBe('empty');
    expect([await waiting(), [...server.whole]]).toEqual([1, ['h']]);
    expect((await store.read((database) => database.get('photographs', ['j', 'bad'])))?.answer).toEqual({ kind: 'refused', words: 'server: refused', at });
    await photographs.tryAgain('j', 'bad');
    await photographs.drain();
    expect([await waiting(), [...server.whole]]).toEqual([0, ['h', 'bad']]);
  });

  it('wait for a sign-in', async () => {
    const { server, service } = makeServer();
    const { photographs, waiting } = openPage(service);
    await photographs.keep('j', 'h', picture);
    server.says = 'signed-out';
    expect([await photographs.drain(), await waiting()]).toEqual(['signed-out', 1]);
  });

  it('that were given up are not brought back by a try that was on its way', async () => {
    const { service } = makeServer();
    const { photographs, waiting } = openPage({ ...service, appendUpload: async () => { await photographs.drop('j', 'h'); throw new ServiceFault('refused', ''); } } as Service);
    await photographs.keep('j', 'h', picture);
    await photographs.drain();
    expect(await waiting()).toBe(0);
  });

  it('that another device took are fetched once, and then shown without a network', async () => {
    const { server, service } = makeServer();
    const first = openPage(service);
    await first.photographs.find('j', 'other');
    await first.photographs.find('j', 'other');
    await openPage(service).photographs.find('j', 'other');
    expect([server.reads, await first.waiting()]).toEqual([1, 0]);
  });

  it('that the device cannot keep are said to be unkept, serve this page, and are sent while it is open', async () => {
    const { server, service } = makeServer();
    const { photographs } = openPage(service, () => Promise.reject(new DOMException('full', 'QuotaExceededError')));
    await expect(photographs.keep('j', 'h', picture)).rejects.toMatchObject({ name: 'StoreFault', kind: 'full' });
    expect([photographs.unkept, await photographs.find('j', 'h')]).toEqual([1, picture]);
    server.says = 'unreachable';
    expect(await photographs.drain()).toBe('unreachable');
    server.says = undefined;
    expect([await photographs.drain(), photographs.unkept, [...server.whole], photographs.stateOf('h')]).toEqual(['empty', 0, ['h'], { kind: 'sent' }]);
  });
});
