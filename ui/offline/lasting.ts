import type { Lasting } from '../client/index.ts';

export interface StorageWorld {
  /** undefined outside a secure context, and in browsers that have none */
  readonly storage: Pick<StorageManager, 'persist' | 'persisted' | 'estimate'> | undefined;
}

/**
 * Whether the browser keeps this site's store when it needs space. It is asked when the first thing waits to be sent: before that there is
 * nothing to lose, and a person who is asked then knows what for.
 */
export class LastingStorage {
  lasting: Lasting;
  space: { used: number; quota: number } | undefined;
  #storage: StorageWorld['storage'];
  #asked = false;

  constructor({ storage }: StorageWorld) {
    this.#storage = storage;
    this.lasting = storage === undefined ? 'cannot-be-asked' : 'not-asked';
  }

  /** Learns what was granted before, and how much space is used. */
  async look(): Promise<void> {
    if (this.#storage === undefined) return;
    try {
      if (await this.#storage.persisted()) this.lasting = 'asked-and-granted';
      const { usage, quota } = await this.#storage.estimate();
      this.space = usage === undefined || quota === undefined ? undefined : { used: usage, quota };
    } catch { /* a browser that does not say is one that does not promise */ }
  }

  /** Asks, once a visit. */
  async ask(): Promise<void> {
    if (this.#storage === undefined || this.#asked || this.lasting === 'asked-and-granted') return;
    this.#asked = true;
    try {
      this.lasting = await this.#storage.persist() ? 'asked-and-granted' : 'asked-and-refused';
    } catch {
      this.lasting = 'asked-and-refused';
    }
  }
}
