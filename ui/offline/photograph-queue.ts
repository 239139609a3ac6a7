import { ServiceFault, StoreFault, type PhotographKeeper, type PhotographState, type Service } from '../client/index.ts';
import type { DeviceStore } from './device-store.ts';
import type { KeptPhotograph } from './kept-shapes.ts';
import type { NewsChannel } from './news.ts';
import type { Drained } from './sender.ts';

export interface PhotographWorld {
  readonly now: () => Date;
  /** begins a try at all that waits */
  readonly wake: () => void;
}

/** Bytes sent in one request: a cut costs no more, and a slow line still finishes one in time. */
export const PIECE_BYTES = 512 * 1024;
/** A server whose offsets cannot be agreed with in so many tries has lost what it had. */
const MOST_CORRECTIONS = 3;

type Progress = Pick<KeptPhotograph, 'jobId' | 'hash' | 'picture'>;

/**
 * Photographs in the order they were taken. A picture is on the disk before it is sent; it goes in pieces, each from where the server says it
 * is, so that a break costs one piece. After it was sent it stays here to be shown, until the space is needed.
 */
export class PhotographQueue extends EventTarget implements PhotographKeeper {
  #store: DeviceStore;
  #service: Service;
  #news: NewsChannel;
  #world: PhotographWorld;
  /** pictures this page has shown or taken */
  #held = new Map<string, Blob>();
  #states = new Map<string, PhotographState>();
  #sent = new Map<string, number>();
  /** pictures that could not be kept: they last as long as the page */
  #unkept: Progress[] = [];

  constructor(store: DeviceStore, service: Service, news: NewsChannel, world: PhotographWorld) {
    super();
    this.#store = store;
    this.#service = service;
    this.#news = news;
    this.#world = world;
    news.follow((each) => { if (each.kind === 'waiting') void this.#readStates(); });
  }

  async keep(jobId: string, hash: string, picture: Blob): Promise<void> {
    this.#held.set(hash, picture);
    const at = this.#world.now().toISOString();
    try {
      await this.#store.write(['photographs'], async (writing) => {
        await writing.objectStore('photographs').put({ jobId, hash, picture, at, waitingSince: at });
      });
    } catch (error) {
      if (!(error instanceof StoreFault)) throw error;
      this.#unkept.push({ jobId, hash, picture });
      this.#show(hash, { kind: 'waiting', sentBytes: 0, bytes: picture.size });
      this.#world.wake();
      throw error;
    }
    this.#show(hash, { kind: 'waiting', sentBytes: 0, bytes: picture.size });
    this.#news.tell({ kind: 'waiting' });
    this.#world.wake();
  }

  async find(jobId: string, hash: string, signal?: AbortSignal): Promise<Blob> {
    const held = this.#held.get(hash) ?? (await this.#store.read((database) => database.get('photographs', [jobId, hash])))?.picture;
    if (held !== undefined) {
      this.#held.set(hash, held);
      return held;
    }
    const picture = await this.#service.readPhotograph(jobId, hash, signal);
    this.#held.set(hash, picture);
    // To be shown without a network next time; a full disk is no reason not to show it now.
    await this.#store.write(['photographs'], async (writing) => {
      const photographs = writing.objectStore('photographs');
      if (await photographs.getKey([jobId, hash]) === undefined) await photographs.put({ jobId, hash, picture, at: this.#world.now().toISOString() });
    }).catch(() => {});
    return picture;
  }

  stateOf(hash: string): PhotographState { return this.#states.get(hash) ?? { kind: 'sent' }; }

  /** Bytes of a picture that the server is known to have. */
  sentBytesOf(jobId: string, hash: string): number { return this.#sent.get(`${jobId} ${hash}`) ?? 0; }

  /** Pictures that wait in this page alone. */
  get unkept(): number { return this.#unkept.length; }

  async tryAgain(jobId: string, hash: string): Promise<void> {
    await this.#store.write(['photographs'], async (writing) => {
      const photograph = await writing.objectStore('photographs').get([jobId, hash]);
      if (photograph === undefined) return;
      const { answer: _, ...again } = photograph;
      await writing.objectStore('photographs').put(again);
    });
    this.#news.tell({ kind: 'waiting' });
    this.#world.wake();
  }

  async drop(jobId: string, hash: string): Promise<void> {
    await this.#store.write(['photographs'], (writing) => writing.objectStore('photographs').delete([jobId, hash]));
    this.#news.tell({ kind: 'waiting' });
  }

  async drain(): Promise<Drained> {
    const keys = await this.#store.read((database) => database.getAllKeysFromIndex('photographs', 'waiting')) ?? [];
    let failed = false;
    for (const key of keys) {
      const photograph = await this.#store.read((database) => database.get('photographs', key));
      if (photograph?.waitingSince === undefined || (photograph.answer !== undefined && photograph.answer.kind !== 'failed')) continue;
      const outcome = await this.#try(photograph);
      if (outcome === 'unreachable' || outcome === 'signed-out') return outcome;
      failed ||= outcome !== 'sent' && outcome.kind === 'failed';
      await this.#note(photograph, outcome);
    }
    for (const photograph of this.#unkept) {
      const outcome = await this.#try(photograph);
      if (outcome === 'unreachable' || outcome === 'signed-out') return outcome;
      this.#unkept = this.#unkept.filter((each) => each !== photograph);
      this.#show(photograph.hash, outcome === 'sent' ? { kind: 'sent' } : { kind: 'refused', why: outcome.detail || outcome.kind });
    }
    return failed ? 'unreachable' : 'empty';
  }

  async #try(photograph: Progress): Promise<'sent' | 'unreachable' | 'signed-out' | ServiceFault> {
    try {
      await this.#send(photograph);
      return 'sent';
    } catch (error) {
      if (!(error instanceof ServiceFault)) throw error;
      switch (error.kind) {
        case 'unreachable': case 'signed-out': return error.kind;
        case 'failed': case 'refused': case 'not-found': case 'taken': return error;
      }
    }
  }

  /** Sends what the server does not have of a picture. */
  async #send({ jobId, hash, picture }: Progress): Promise<void> {
    let { offset, whole } = await this.#service.beginUpload(jobId, { hash, type: picture.type, bytes: picture.size });
    let corrections = 0;
    while (!whole) {
      this.#progress(jobId, hash, offset, picture.size);
      const end = Math.min(offset + PIECE_BYTES, picture.size);
      try {
        ({ offset, whole } = await this.#service.appendUpload(jobId, hash, { offset, piece: picture.slice(offset, end), last: end === picture.size }));
      } catch (error) {
        // The server is somewhere else, as after an answer that was lost: it says where.
        corrections += 1;
        if (!(error instanceof ServiceFault && error.kind === 'taken') || corrections > MOST_CORRECTIONS) throw error;
        ({ offset, whole } = await this.#service.askUpload(jobId, hash));
      }
    }
  }

  async #note(photograph: KeptPhotograph, outcome: 'sent' | ServiceFault): Promise<void> {
    const { waitingSince, answer: _, ...held } = photograph;
    const next: KeptPhotograph = outcome === 'sent' ? held : {
      ...held, waitingSince: waitingSince!, answer: { kind: outcome.kind === 'failed' ? 'failed' : 'refused', words: outcome.detail, at: this.#world.now().toISOString() },
    };
    await this.#store.write(['photographs'], async (writing) => {
      // A person may have dropped it meanwhile.
      if (await writing.objectStore('photographs').getKey([photograph.jobId, photograph.hash]) !== undefined) await writing.objectStore('photographs').put(next);
    });
    this.#news.tell({ kind: 'waiting' });
  }

  #progress(jobId: string, hash: string, offset: number, bytes: number): void {
    this.#sent.set(`${jobId} ${hash}`, offset);
    this.#show(hash, { kind: 'waiting', sentBytes: offset, bytes });
    this.#news.tell({ kind: 'waiting' });
  }

  /** What another page, or a try of this one, has made of the pictures that waited. */
  async #readStates(): Promise<void> {
    const waiting = await this.#store.read((database) => database.getAllFromIndex('photographs', 'waiting'));
    if (waiting === undefined) return;
    this.#states = new Map(this.#unkept.map(({ jobId, hash, picture }) => [hash, { kind: 'waiting', sentBytes: this.sentBytesOf(jobId, hash), bytes: picture.size }]));
    for (const { jobId, hash, picture, answer } of waiting) {
      this.#states.set(hash, answer !== undefined && answer.kind !== 'failed' ? { kind: 'refused', why: answer.words || answer.kind }
        : { kind: 'waiting', sentBytes: this.sentBytesOf(jobId, hash), bytes: picture.size });
    }
    this.dispatchEvent(new Event('change'));
  }

  #show(hash: string, state: PhotographState): void {
    this.#states.set(hash, state);
    this.dispatchEvent(new Event('change'));
  }
}
