import type { FitHistory, Part, Prices, Replacements, ShelfRow } from '../../catalog-schema/index.ts';
import type { EngineClient } from '../worker/index.ts';
import type { CatalogueFile, Service } from './service.ts';
import { ShopParts } from './shop-parts.ts';

/** Where the catalogue's file outlives the page. */
export interface CatalogueKeeper {
  read(): Promise<CatalogueFile | undefined>;
  keep(file: CatalogueFile): Promise<void>;
}

/**
 * The catalogue, prices, shelf and what the shop has learned, given to the engine. Tells of news by an event named 'change'. The catalogue's
 * file that was kept serves at once; a newer one of the server's takes its place when it has come. Where prices or history cannot be read
 * the catalogue still serves: a fit then has no cost, or stands on the catalogue alone.
 */
export class Shop extends EventTarget {
  readonly parts: ShopParts;
  prices: Prices | undefined;
  shelf: readonly ShelfRow[] = [];
  /** what the shop has learned of fitted parts; a new list whenever it, or the catalogue, has been read anew */
  history: FitHistory = [];
  /** what it found of parts in place of numbers */
  replacements: Replacements = [];
  #service: Service;
  #engine: EngineClient;
  #keeper: CatalogueKeeper;
  #opened: Promise<void> | undefined;

  constructor(service: Service, engine: EngineClient, keeper: CatalogueKeeper) {
    super();
    this.#service = service;
    this.#engine = engine;
    this.#keeper = keeper;
    this.parts = new ShopParts(engine);
    this.parts.addEventListener('change', () => this.dispatchEvent(new Event('change')));
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
    [this.history, this.replacements] = await Promise.all([this.#service.readHistory(), this.#service.readReplacements()]);
    this.dispatchEvent(new Event('change'));
  }

  async #load(): Promise<void> {
    const kept = await this.#keeper.read();
    const [catalogue, prices, shelf, history, replacements] = await Promise.all([
      kept?.bytes ?? this.#fetchCatalogue(),
      this.#service.readPrices().catch(() => undefined),
      this.#service.readShelf().catch(() => []),
      this.#service.readHistory().catch(() => []),
      this.#service.readReplacements().catch(() => []),
    ]);
    this.prices = prices;
    this.shelf = shelf;
    this.history = history;
    this.replacements = replacements;
    try {
      this.parts.reset(await this.#engine.load(catalogue, prices));
    } catch (error) {
      // What was kept may have been written by another version of the product.
      if (kept === undefined) throw error;
      this.parts.reset(await this.#engine.load(await this.#fetchCatalogue(), prices));
      return;
    }
    if (kept !== undefined) void this.#renew(kept.tag).catch(() => {});
  }

  async #fetchCatalogue(): Promise<ArrayBuffer | readonly Part[]> {
    let fresh: CatalogueFile | 'unchanged';
    try {
      fresh = await this.#service.readSnapshot(undefined);
    } catch (error) {
      // Where the server is too busy to make the file the engine takes the parts themselves.
      return this.#service.readCatalogue().catch(() => { throw error; });
    }
    if (fresh === 'unchanged') throw new Error('the server answered unchanged to a question without a tag');
    await this.#keeper.keep(fresh);
    return fresh.bytes;
  }

  /** Takes the server's catalogue in place of the kept one, where it is another. */
  async #renew(tag: string): Promise<void> {
    const fresh = await this.#service.readSnapshot(tag);
    if (fresh === 'unchanged') return;
    const count = await this.#engine.load(fresh.bytes, this.prices);
    await this.#keeper.keep(fresh);
    // Answers hang on the catalogue as they hang on the history: a new list makes them be asked for anew.
    this.history = [...this.history];
    this.parts.reset(count);
  }
}
