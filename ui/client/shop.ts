import type { FitHistory, Part, Prices, ShelfRow } from '../../catalog-schema/index.ts';
import type { EngineClient } from '../worker/index.ts';
import type { Service } from './service.ts';

/**
 * The catalogue, prices, shelf and what the shop has learned, fetched once and given to the engine. Tells of news by an event named 'change'.
 * Where prices or history cannot be read the catalogue still serves: a fit then has no cost, or stands on the catalogue alone.
 */
export class Shop extends EventTarget {
  parts: ReadonlyMap<string, Part> = new Map();
  prices: Prices | undefined;
  shelf: readonly ShelfRow[] = [];
  /** what the shop has learned of fitted parts; a new list whenever it has been read anew */
  history: FitHistory = [];
  #service: Service;
  #engine: EngineClient;
  #opened: Promise<void> | undefined;

  constructor(service: Service, engine: EngineClient) {
    super();
    this.#service = service;
    this.#engine = engine;
  }

  /** Fetches what the screens need, once; tried again by the next call after a failure. */
  open(): Promise<void> {
    this.#opened ??= this.#load().catch((error: unknown) => {
      this.#opened = undefined;
      throw error;
    });
    return this.#opened;
  }

  /** Reads the shelf again, after something was put aside. */
  async refreshShelf(): Promise<void> {
    this.shelf = await this.#service.readShelf();
    this.dispatchEvent(new Event('change'));
  }

  /** Reads what the shop has learned again, after somebody told what became of a part. */
  async refreshHistory(): Promise<void> {
    this.history = await this.#service.readHistory();
    this.dispatchEvent(new Event('change'));
  }

  async #load(): Promise<void> {
    const [parts, snapshot, prices, shelf, history] = await Promise.all([
      this.#service.readCatalogue(),
      // Where the server is too busy to make one the engine takes the parts themselves.
      this.#service.readSnapshot().catch(() => undefined),
      this.#service.readPrices().catch(() => undefined),
      this.#service.readShelf().catch(() => []),
      this.#service.readHistory().catch(() => []),
    ]);
    this.parts = new Map(parts.map((part) => [part.id, part]));
    this.prices = prices;
    this.shelf = shelf;
    this.history = history;
    await this.#engine.load(snapshot ?? parts, prices);
    this.dispatchEvent(new Event('change'));
  }
}
