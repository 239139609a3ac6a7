import type { StockMoveRequest, StockRow } from '../../catalog-schema/index.ts';
import type { Desk } from './desk.ts';
import { layWaitingMoves } from './lay-moves.ts';

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

  get currency(): string { return this.#rows?.[0]?.currency ?? this.#desk.shop.prices?.currency ?? 'XXX'; }

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

  /** Books moves together, by whoever works here. As `Device.submit`. */
  async book(moves: readonly Move[], { by, at }: { by?: string; at?: string } = {}): Promise<'sent' | 'waiting'> {
    const { settings, now, newId, device, shop } = this.#desk;
    const name = by ?? settings.values.author;
    const full = moves.map((move): StockMoveRequest => ({ ...move, id: newId(), at: at ?? now().toISOString(), ...(name === '' ? {} : { by: name }) }));
    try {
      return await device.submit({ kind: 'moves', body: { moves: full } });
    } finally {
      await Promise.all([this.read(), shop.refreshShelf().catch(() => {})]);
    }
  }
}
