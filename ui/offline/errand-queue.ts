import type { JobState } from '../../catalog-schema/index.ts';
import { ServiceFault, StoreFault, type Errand, type KeptAnswer, type Service } from '../client/index.ts';
import type { DeviceStore } from './device-store.ts';
import type { KeptRequest } from './kept-shapes.ts';
import type { NewsChannel } from './news.ts';
import type { Drained, Queue } from './sender.ts';

export interface ErrandWorld {
  readonly now: () => Date;
  /** begins a try at all that waits; resolves when it has ended */
  readonly wake: () => Promise<void>;
  /** resolves after so many ms */
  readonly pause: (ms: number) => Promise<void>;
}

/** How long a person waits at the screen for an answer before being told that the errand is kept. */
const PATIENCE_MS = 4_000;

interface Asking { readonly resolve: (outcome: 'sent') => void; readonly reject: (fault: ServiceFault) => void }

/**
 * Errands in the order they were made: kept first, then sent. A no that comes while the person still looks at the errand is told there
 * and then; one that comes later stays in the store beside the errand until a person has dealt with it.
 */
export class ErrandQueue {
  #store: DeviceStore;
  #service: Service;
  #news: NewsChannel;
  #world: ErrandWorld;
  #asking = new Map<number, Asking>();

  constructor(store: DeviceStore, service: Service, news: NewsChannel, world: ErrandWorld) {
    this.#store = store;
    this.#service = service;
    this.#news = news;
    this.#world = world;
  }

  /** New jobs: everything else of a job leans on it. */
  readonly starts: Queue = { drain: () => this.#drain((errand) => errand.kind === 'start-job') };
  /** All other errands. */
  readonly others: Queue = { drain: () => this.#drain((errand) => errand.kind !== 'start-job') };

  /** As `Device.submit`. */
  async submit(errand: Errand): Promise<'sent' | 'waiting'> {
    let key: number;
    try {
      key = await this.#keep(errand);
    } catch (error) {
      if (!(error instanceof StoreFault)) throw error;
      // It cannot be kept: then it is sent while the person waits, or it is not done, and that is said.
      await this.#sendUnkept(errand, error);
      return 'sent';
    }
    const answered = new Promise<'sent'>((resolve, reject) => { this.#asking.set(key, { resolve, reject }); });
    this.#news.tell({ kind: 'waiting' });
    const tried = this.#world.wake().then(() => this.#lookUp(key));
    try {
      return await Promise.race([answered, tried, this.#world.pause(PATIENCE_MS).then(() => 'waiting' as const)]);
    } finally {
      this.#asking.delete(key);
    }
  }

  /** Puts an errand that was answered with a no in the queue again. */
  async tryAgain(key: number): Promise<void> {
    await this.#store.write(['requests'], async (writing) => {
      const request = await writing.objectStore('requests').get(key);
      if (request === undefined) return;
      const { answer: _, ...again } = request;
      await writing.objectStore('requests').put(again, key);
    });
    this.#news.tell({ kind: 'waiting' });
    void this.#world.wake();
  }

  /** Takes an errand that was answered with a no off this device; with a new job's, the job as it is kept here. */
  async drop(key: number): Promise<void> {
    await this.#store.write(['requests', 'jobs'], async (writing) => {
      const request = await writing.objectStore('requests').get(key);
      if (request === undefined) return;
      await writing.objectStore('requests').delete(key);
      if (request.kind === 'start-job') await writing.objectStore('jobs').delete(request.body.id);
    });
    this.#news.tell({ kind: 'waiting' });
  }

  async #keep(errand: Errand): Promise<number> {
    const at = this.#world.now().toISOString();
    const jobId = jobOf(errand);
    let begun: JobState | undefined;
    if (errand.kind === 'start-job') {
      const { stateOfNewJob } = await import('./begin-job.ts');
      begun = stateOfNewJob(errand.body);
    }
    return this.#store.write(['requests', 'jobs'], async (writing) => {
      if (begun !== undefined) await writing.objectStore('jobs').put(begun);
      return writing.objectStore('requests').add({ ...errand, at, ...(jobId === undefined ? {} : { jobId }) });
    });
  }

  /** After a try, by whichever page it was made: what was sent has left the store. */
  async #lookUp(key: number): Promise<'sent' | 'waiting'> {
    const there = await this.#store.read((database) => database.getKey('requests', key));
    return there === undefined ? 'sent' : 'waiting';
  }

  async #sendUnkept(errand: Errand, why: StoreFault): Promise<void> {
    try {
      await this.#send(errand);
    } catch (error) {
      throw error instanceof ServiceFault && (error.kind === 'unreachable' || error.kind === 'signed-out') ? why : error;
    }
  }

  async #drain(mine: (errand: Errand) => boolean): Promise<Drained> {
    const keys = await this.#store.read((database) => database.getAllKeys('requests')) ?? [];
    let failed = false;
    for (const key of keys) {
      const request = await this.#store.read((database) => database.get('requests', key));
      if (request === undefined || !mine(request) || (request.answer !== undefined && request.answer.kind !== 'failed')) continue;
      try {
        await this.#send(request);
        await this.#settle(key, undefined);
      } catch (error) {
        if (!(error instanceof ServiceFault)) throw error;
        switch (error.kind) {
          case 'unreachable': return 'unreachable';
          case 'signed-out': return 'signed-out';
          case 'failed':
            // The server's own mistake at this one; the others may fare better, and this one is tried again.
            failed = true;
            await this.#note(key, request, { kind: 'failed', words: error.detail, at: this.#world.now().toISOString() });
            break;
          case 'refused': case 'not-found': case 'taken':
            await this.#settle(key, error, request);
        }
      }
    }
    return failed ? 'unreachable' : 'empty';
  }

  /** What came of an errand: it leaves the store, unless the server said no and nobody is there to be told. */
  async #settle(key: number, fault: ServiceFault | undefined, request?: KeptRequest): Promise<void> {
    const asking = this.#asking.get(key);
    if (fault !== undefined && request !== undefined && asking === undefined) {
      await this.#note(key, request, { kind: fault.kind as KeptAnswer['kind'], words: fault.detail, at: this.#world.now().toISOString() });
      return;
    }
    if (fault === undefined) {
      await this.#store.write(['requests'], (writing) => writing.objectStore('requests').delete(key));
      this.#news.tell({ kind: 'waiting' });
      asking?.resolve('sent');
    } else {
      await this.drop(key);
      asking?.reject(fault);
    }
  }

  async #note(key: number, request: KeptRequest, answer: KeptAnswer): Promise<void> {
    await this.#store.write(['requests'], (writing) => writing.objectStore('requests').put({ ...request, answer }, key));
    this.#news.tell({ kind: 'waiting' });
  }

  async #send(errand: Errand): Promise<void> {
    switch (errand.kind) {
      case 'start-job': {
        const state = await this.#service.startJob(errand.body);
        await this.#store.write(['jobs'], (writing) => writing.objectStore('jobs').put(state)).catch(ignoreStoreFault);
        this.#news.tell({ kind: 'job', id: state.id });
        return;
      }
      case 'reserve': await this.#service.reserve(errand.body); return;
      case 'release':
        await this.#service.releaseReservation(errand.body.id).catch((error: unknown) => {
          // It is not put aside any more: that was what was asked for.
          if (!(error instanceof ServiceFault && error.kind === 'not-found')) throw error;
        });
        return;
      case 'moves': await this.#service.recordMoves(errand.body.moves); return;
      case 'order-line': await this.#service.draftOrderLine(errand.body); return;
      case 'order-acts': await this.#service.actOnOrder(errand.body.orderId, errand.body.acts); return;
      case 'outcome': await this.#service.reportOutcome(errand.body); return;
      default: throw new Error(`no such errand: ${JSON.stringify(errand satisfies never)}`);
    }
  }
}

function jobOf(errand: Errand): string | undefined {
  return errand.kind === 'start-job' ? errand.body.id : errand.body.jobId;
}

function ignoreStoreFault(error: unknown): void {
  if (!(error instanceof StoreFault)) throw error;
}
