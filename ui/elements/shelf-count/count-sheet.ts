import type { StockRow } from '../../../catalog-schema/index.ts';
import type { Move } from '../../client/index.ts';

/** One row that was counted: `booked` and `knownSeq` are what the books of this device said then. */
export interface CountedRow { readonly partId: string; readonly bin: string; readonly counted: number; readonly booked: number; readonly knownSeq: number; readonly at: string }

/** A count as this device keeps it until it is booked. */
interface KeptCount { readonly scope: string | null; readonly at: string; readonly here: string | null; readonly rows: readonly CountedRow[] }

const KEY = 'lugwright.count';

/**
 * A count that goes on: of one bin or of the whole shelf. Kept on this device after each change, so that a closed page loses none of it.
 * Nothing of it is booked here.
 */
export class CountSheet {
  /** the bin that is counted; undefined for the whole shelf */
  scope: string | undefined;
  begun: string;
  /** the bin somebody stands at */
  here: string | undefined;
  #rows = new Map<string, CountedRow>();
  #storage: Pick<Storage, 'setItem' | 'removeItem'> | undefined;

  constructor(given: { scope: string | undefined; at: string }, storage: Pick<Storage, 'setItem' | 'removeItem'> | undefined) {
    this.scope = given.scope;
    this.begun = given.at;
    this.here = given.scope;
    this.#storage = storage;
  }

  /** The count that was kept, where there is one that reads. */
  static restore(storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | undefined): CountSheet | undefined {
    try {
      const kept = JSON.parse(storage?.getItem(KEY) ?? 'null') as KeptCount | null;
      if (kept === null || !Array.isArray(kept.rows)) return undefined;
      const sheet = new CountSheet({ scope: kept.scope ?? undefined, at: kept.at }, storage);
      sheet.here = kept.here ?? undefined;
      for (const row of kept.rows) sheet.#rows.set(keyOf(row.partId, row.bin), row);
      return sheet;
    } catch {
      return undefined;
    }
  }

  get rows(): CountedRow[] { return [...this.#rows.values()]; }

  find(partId: string, bin: string): CountedRow | undefined { return this.#rows.get(keyOf(partId, bin)); }

  goTo(bin: string): void {
    this.here = bin;
    this.#keep();
  }

  /** What was counted of a part in a bin; undefined takes it back. `row` is what the books say of it, where they say anything. */
  set(partId: string, bin: string, counted: number | undefined, row: StockRow | undefined, at: string): void {
    const key = keyOf(partId, bin);
    if (counted === undefined) this.#rows.delete(key);
    else this.#rows.set(key, { partId, bin, counted, booked: row?.onHand ?? 0, knownSeq: row?.seq ?? 0, at });
    this.#keep();
  }

  /** One more of a part in a bin. @returns how many that makes. */
  addOne(partId: string, bin: string, row: StockRow | undefined, at: string): number {
    const counted = (this.find(partId, bin)?.counted ?? 0) + 1;
    this.set(partId, bin, counted, row, at);
    return counted;
  }

  /** The count as moves: a row that agrees is booked too, so that it is known when it was last looked at. */
  moves(reason: string): { move: Move; at: string }[] {
    return this.rows.map(({ partId, bin, counted, knownSeq, at }) => ({ at, move: { kind: 'count', partId, bin, qty: counted, knownSeq, reason } }));
  }

  /** Ends it: nothing of it is kept on this device any more. */
  end(): void {
    try { this.#storage?.removeItem(KEY); } catch { /* a browser that bars its storage kept nothing */ }
  }

  #keep(): void {
    const kept: KeptCount = { scope: this.scope ?? null, at: this.begun, here: this.here ?? null, rows: this.rows };
    try { this.#storage?.setItem(KEY, JSON.stringify(kept)); } catch { /* full or barred: it then lasts as long as the page */ }
  }
}

function keyOf(partId: string, bin: string): string { return JSON.stringify([partId, bin]); }
