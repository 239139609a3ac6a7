import type { Device, Errand, Lasting, Reach, StoreTrouble, WaitingItem } from '../client/index.ts';
import type { DeviceStore } from './device-store.ts';
import type { ErrandQueue } from './errand-queue.ts';
import type { LastingStorage } from './lasting.ts';
import type { NewsChannel } from './news.ts';
import { listWaiting, readKey } from './waiting-list.ts';

/** Something that keeps what the server refused until a person has dealt with it. */
export interface RefusedKeeper<Name extends readonly unknown[]> {
  tryAgain(...name: Name): Promise<void>;
  drop(...name: Name): Promise<void>;
}

export interface DeviceParts {
  readonly store: DeviceStore;
  readonly news: NewsChannel;
  readonly errands: ErrandQueue;
  readonly edits: RefusedKeeper<[jobId: string]>;
  readonly photographs: RefusedKeeper<[jobId: string, hash: string]> & { sentBytesOf(jobId: string, hash: string): number };
  readonly storage: LastingStorage;
  readonly ageOf: (reading: string) => string | undefined;
  readonly wake: () => void;
}

/** This device as the screens see it, put together from its store and queues. */
export class KeptDevice extends EventTarget implements Device {
  waiting: readonly WaitingItem[] = [];
  reach: Reach = 'reached';
  keepsPage = true;
  #parts: DeviceParts;
  #counting: Promise<void> | undefined;
  #recount = false;

  constructor(parts: DeviceParts) {
    super();
    this.#parts = parts;
    parts.store.addEventListener('change', () => this.#tell());
    parts.news.follow((news) => {
      switch (news.kind) {
        case 'reach':
          if (news.reach === this.reach) return;
          this.reach = news.reach;
          this.#tell();
          return;
        case 'waiting': case 'job': void this.count();
      }
    });
  }

  get trouble(): StoreTrouble | undefined { return this.#parts.store.trouble; }
  get evicted(): Device['evicted'] { return this.#parts.store.evicted; }
  get lasting(): Lasting { return this.#parts.storage.lasting; }
  get space(): Device['space'] { return this.#parts.storage.space; }

  /** Opens the store and counts what waits in it. */
  async start(): Promise<void> {
    await Promise.all([this.#parts.store.start(), this.#parts.storage.look()]);
    await this.count();
  }

  /** Counts what waits anew; several calls at once are one count after the last of them. */
  count(): Promise<void> {
    this.#recount = true;
    this.#counting ??= this.#countAll().finally(() => { this.#counting = undefined; });
    return this.#counting;
  }

  ageOf(reading: Parameters<Device['ageOf']>[0]): string | undefined { return this.#parts.ageOf(reading); }

  submit(errand: Errand): Promise<'sent' | 'waiting'> { return this.#parts.errands.submit(errand); }

  sendNow(): void { this.#parts.wake(); }

  tryAgain(key: string): Promise<void> {
    const named = readKey(key);
    switch (named.store) {
      case 'edits': return this.#parts.edits.tryAgain(named.jobId);
      case 'requests': return this.#parts.errands.tryAgain(named.key);
      case 'photographs': return this.#parts.photographs.tryAgain(named.jobId, named.hash);
    }
  }

  drop(key: string): Promise<void> {
    const named = readKey(key);
    switch (named.store) {
      case 'edits': return this.#parts.edits.drop(named.jobId);
      case 'requests': return this.#parts.errands.drop(named.key);
      case 'photographs': return this.#parts.photographs.drop(named.jobId, named.hash);
    }
  }

  /** The browser has said whether it keeps the page itself. */
  noteKeepsPage(keeps: boolean): void {
    this.keepsPage = keeps;
    this.#tell();
  }

  forgetEviction(): void { this.#parts.store.forgetEviction(); }

  async #countAll(): Promise<void> {
    const { store, storage, photographs } = this.#parts;
    while (this.#recount) {
      this.#recount = false;
      const listed = await store.read((database) => listWaiting(database, (jobId, hash) => photographs.sentBytesOf(jobId, hash)));
      if (listed === undefined) continue;
      this.waiting = listed;
      store.mark(listed.length, listed[0]?.since);
      if (listed.length > 0) await storage.ask();
    }
    this.#tell();
  }

  #tell(): void { this.dispatchEvent(new Event('change')); }
}
