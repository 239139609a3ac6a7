import type { BenchRecord, FitAnswer, Prices } from '../../../catalog-schema/index.ts';
import type { Snapshot } from '../snapshot/index.ts';
import { fitSnapshot, indexSnapshot, type IndexedCatalogue } from './fit-snapshot.ts';
import type { FitOptions } from './machine.ts';

/** Price lists kept ready: the shop's own, and one that somebody asks with. */
const LISTS_KEPT = 2;

/** `fit` over the catalogue of a snapshot. Keeps it sorted out for the price lists it was last asked with, and for none. */
export class SnapshotFitter {
  readonly snapshot: Snapshot;
  #unpriced: IndexedCatalogue | undefined;
  #priced: { readonly text: string; readonly indexed: IndexedCatalogue }[] = [];

  constructor(snapshot: Snapshot) {
    this.snapshot = snapshot;
  }

  fit(record: BenchRecord, { prices, ...options }: FitOptions = {}): FitAnswer {
    return fitSnapshot(record, this.prepare(prices), options);
  }

  /** Sorts the catalogue out for a price list before somebody waits for an answer. */
  prepare(prices: Prices | undefined): IndexedCatalogue {
    if (prices === undefined) return this.#unpriced ??= indexSnapshot(this.snapshot, undefined, this.#priced[0]?.indexed);
    const same = this.#priced.find(({ indexed }) => indexed.prices === prices);
    if (same) return same.indexed;
    // A list that came by message or request is another object each time.
    const text = JSON.stringify(prices);
    const equal = this.#priced.find((each) => each.text === text);
    if (equal) return equal.indexed;
    const indexed = indexSnapshot(this.snapshot, prices, this.#unpriced ?? this.#priced[0]?.indexed);
    this.#priced = [{ text, indexed }, ...this.#priced].slice(0, LISTS_KEPT);
    return indexed;
  }
}
