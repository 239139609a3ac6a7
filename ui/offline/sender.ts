import type { Reach } from '../client/index.ts';
import type { NewsChannel } from './news.ts';

/** How far a queue got: all that could be sent is; or the way to the server is shut. */
export type Drained = 'empty' | 'unreachable' | 'signed-out';

/** Something that waits in the store, in order. */
export interface Queue {
  /** Sends what waits until there is no more, or the way is shut. What the server says no to is no reason to stop. */
  drain(): Promise<Drained>;
}

export interface SenderWorld {
  /** undefined where the browser has none, as outside a secure context: two pages may then send the same, which is harmless */
  readonly locks: Pick<LockManager, 'request'> | undefined;
  /** runs later; returns what calls it off */
  readonly later: (work: () => void, ms: number) => () => void;
}

const LOCK = 'lugwright-sender';
/** Pauses between tries while the server is not reached, ms; the last one repeats. */
export const PAUSES_MS = [1_000, 3_000, 10_000, 30_000] as const;

/**
 * Sends what waits on this device, one page at a time and queue by queue: a later queue may lean on what an earlier one sends, so it
 * waits while the earlier is stuck. Tries again by itself; after a sign-out only when woken.
 */
export class Sender {
  #queues: readonly Queue[];
  #news: NewsChannel;
  #world: SenderWorld;
  #running: Promise<void> | undefined;
  #again = false;
  #tries = 0;
  #callOff: () => void = () => {};

  constructor(queues: readonly Queue[], news: NewsChannel, world: SenderWorld) {
    this.#queues = queues;
    this.#news = news;
    this.#world = world;
  }

  /** Sends what waits now; resolves when a try that began after this call has ended. */
  wake(): Promise<void> {
    this.#callOff();
    this.#again = true;
    this.#running ??= this.#run().finally(() => { this.#running = undefined; });
    return this.#running;
  }

  async #run(): Promise<void> {
    while (this.#again) {
      const { locks } = this.#world;
      const sendAll = async (): Promise<Drained> => {
        this.#again = false;
        return this.#drainAll();
      };
      const drained = locks === undefined ? await sendAll() : await locks.request(LOCK, sendAll);
      this.#news.tell({ kind: 'reach', reach: reachOf(drained) });
      this.#plan(drained);
    }
  }

  async #drainAll(): Promise<Drained> {
    for (const queue of this.#queues) {
      const drained = await queue.drain();
      if (drained !== 'empty') return drained;
    }
    return 'empty';
  }

  #plan(drained: Drained): void {
    if (drained !== 'unreachable') {
      this.#tries = 0;
      return;
    }
    const pause = PAUSES_MS[Math.min(this.#tries, PAUSES_MS.length - 1)]!;
    this.#tries += 1;
    this.#callOff();
    this.#callOff = this.#world.later(() => { void this.wake(); }, pause);
  }
}

function reachOf(drained: Drained): Reach {
  return drained === 'empty' ? 'reached' : drained;
}
