import type { Offer, Prices, ShelfEntry } from '../../../catalog-schema/index.ts';
import { findOneUnit, type OneUnit, type UnitChoices, type UnitTerms } from './one-unit.ts';

/** Prices, made ready to be asked about one part after the other. */
export interface Supply extends UnitTerms {
  /** the cheapest way to one unit needed today, remembered; undefined where the part has no price */
  unitOf(partId: string): OneUnit | undefined;
  /** part and wait of that way, minor units; not remembered: for whoever goes through a whole catalogue */
  landedOf(partId: string): number | undefined;
  /** units of it free on the shelf */
  freeOf(partId: string): number;
  /** whether the supplier's offer of it stands today */
  offers(partId: string, supplierId: string): boolean;
}

/** Cost: one pass over shelf and offers, half a second for a million. */
export function createSupply(prices: Prices): Supply {
  const suppliers = new Map(prices.suppliers.map((supplier) => [supplier.id, supplier]));
  const shelf = new ByPart(prices.shelf);
  const offers = new ByPart(prices.offers);
  const terms: UnitTerms = { currency: prices.currency, today: prices.today, now: prices.now, waitCostPerDay: prices.waitCostPerDay ?? 0 };
  const choicesOf = (partId: string): UnitChoices => ({
    shelf: shelf.of(partId),
    offers: offers.of(partId).flatMap((offer) => {
      const supplier = suppliers.get(offer.supplierId);
      return supplier ? [{ offer, supplier }] : [];
    }),
  });
  const known = new Map<string, OneUnit | undefined>();
  return {
    ...terms,
    unitOf: (partId) => {
      if (!known.has(partId)) known.set(partId, findOneUnit(choicesOf(partId), terms));
      return known.get(partId);
    },
    landedOf: (partId) => {
      const unit = findOneUnit(choicesOf(partId), terms);
      return unit && unit.partMinor + unit.waitMinor;
    },
    freeOf: (partId) => shelf.of(partId).reduce((sum, { onHand, reserved = 0 }) => sum + onHand - reserved, 0),
    offers: (partId, supplierId) => choicesOf(partId).offers
      .some(({ offer }) => offer.supplierId === supplierId && (offer.validUntil === undefined || offer.validUntil >= terms.today)),
  };
}

/** Rows by their part, in their order. Chained by number: a list a part would be a million small ones. */
class ByPart<T extends ShelfEntry | Offer> {
  readonly #rows: readonly T[];
  readonly #first = new Map<string, number>();
  readonly #next: Int32Array;

  constructor(rows: readonly T[]) {
    this.#rows = rows;
    this.#next = new Int32Array(rows.length);
    for (let at = rows.length - 1; at >= 0; at--) {
      const { partId } = rows[at]!;
      this.#next[at] = this.#first.get(partId) ?? -1;
      this.#first.set(partId, at);
    }
  }

  of(partId: string): T[] {
    const found: T[] = [];
    for (let at = this.#first.get(partId) ?? -1; at >= 0; at = this.#next[at]!) found.push(this.#rows[at]!);
    return found;
  }
}
