import { NO_CURRENCY, type StockMoveRequest, type StockRow } from '../../catalog-schema/index.ts';
import type { Desk } from './desk.ts';
import { layWaitingMoves } from './lay-moves.ts';

/** Moves in one request. */
const MOST_AT_ONCE = 500;

/** What a screen asks to be booked: the id, the moment and the name are put to it here. */
export type Move = Omit<StockMoveRequest, 'id' | 'at' | 'by'>;

/** The books of the shelf as a screen reads and writes them. Tells of news by an event named 'change'. */
export class ShelfBooks extends EventTarget {
  #desk: Desk;
  #rows: readonly StockRow[] | undefined;
  /** why the rows could not be read */
  fault: unknown;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** The rows as they stand on this device; undefined until they have been read once. */
  get rows(): readonly StockRow[] | undefined {
    return this.#rows === undefined ? undefined : layWaitingMoves(this.#rows, this.#desk.device.waiting);
  }

  get currency(): string { return this.#rows?.[0]?.currency ?? this.#desk.shop.prices?.currency ?? NO_CURRENCY; }

  /** Reads the rows anew, and the names of their parts. */
  async read(): Promise<void> {
    try {
      this.#rows = await this.#desk.service.readStock();
      this.fault = undefined;
    } catch (error) {
      this.fault = error;
    }
    this.dispatchEvent(new Event('change'));
    await this.#desk.shop.open().then(() => this.#desk.shop.parts.fetch([...new Set(this.#rows?.map(({ partId }) => partId) ?? [])])).catch(() => {});
    this.dispatchEvent(new Event('change'));
  }

  /** Books moves together, now and by whoever works here. As `Device.submit`. */
  book(moves: readonly Move[]): Promise<'sent' | 'waiting'> {
    const at = this.#desk.now().toISOString();
    return this.bookAt(moves.map((move) => ({ move, at })), this.#desk.settings.values.author);
  }

  /** Books moves together, each at its own moment. As `Device.submit`. */
  async bookAt(moves: readonly { readonly move: Move; readonly at: string }[], by: string): Promise<'sent' | 'waiting'> {
    const { newId, device, shop } = this.#desk;
    const full = moves.map(({ move, at }): StockMoveRequest => ({ ...move, id: newId(), at, ...(by === '' ? {} : { by }) }));
    try {
      let went: 'sent' | 'waiting' = 'sent';
      // A whole shelf counted is more than one request takes: the rows do not hang together.
      for (let first = 0; first < full.length; first += MOST_AT_ONCE) {
        if (await device.submit({ kind: 'moves', body: { moves: full.slice(first, first + MOST_AT_ONCE) } }) === 'waiting') went = 'waiting';
      }
      return went;
    } finally {
      await Promise.all([this.read(), shop.refreshShelf().catch(() => {})]);
    }
  }
}
