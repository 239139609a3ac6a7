import type { Part } from '../../catalog-schema/index.ts';
import type { EngineClient } from '../worker/index.ts';

/**
 * The parts of the catalogue as the screens read them. The catalogue itself lies with the engine: a part comes from there when it is first
 * asked for, and news of it by an event named 'change'.
 */
export class ShopParts extends EventTarget {
  /** parts in the catalogue; 0 until it has been opened */
  size = 0;
  #engine: Pick<EngineClient, 'parts'>;
  /** null for an id that the catalogue does not have */
  #known = new Map<string, Part | null>();
  #wanted = new Set<string>();
  #fetching: Promise<void> | undefined;

  constructor(engine: Pick<EngineClient, 'parts'>) {
    super();
    this.#engine = engine;
  }

  /** The part, where it is here; else it is fetched. */
  get(id: string): Part | undefined {
    const known = this.#known.get(id);
    if (known === undefined && this.size > 0 && !this.#wanted.has(id)) {
      this.#wanted.add(id);
      void this.#fetchWanted().catch(() => {});
    }
    return known ?? undefined;
  }

  has(id: string): boolean { return this.get(id) !== undefined; }

  /** Whether a part that `get` did not give may still come. */
  isOnItsWay(id: string): boolean { return this.size === 0 || !this.#known.has(id); }

  /** Fetches parts; afterwards `get` has them at once. */
  async fetch(ids: readonly string[]): Promise<void> {
    for (const id of ids) if (!this.#known.has(id)) this.#wanted.add(id);
    if (this.#wanted.size > 0) await this.#fetchWanted();
  }

  /** Another catalogue has been opened, of so many parts: what was known of the one before may have changed. */
  reset(size: number): void {
    this.size = size;
    this.#known = new Map();
    this.dispatchEvent(new Event('change'));
  }

  /** Those that one drawing of a screen asks for come in one answer. */
  #fetchWanted(): Promise<void> {
    this.#fetching ??= Promise.resolve().then(async () => {
      const ids = [...this.#wanted];
      const known = this.#known;
      try {
        const parts = await this.#engine.parts(ids);
        for (const id of ids) known.set(id, null);
        for (const part of parts) known.set(part.id, part);
      } finally {
        for (const id of ids) this.#wanted.delete(id);
        this.#fetching = undefined;
      }
      this.dispatchEvent(new Event('change'));
      if (this.#wanted.size > 0) await this.#fetchWanted();
    });
    return this.#fetching;
  }
}
