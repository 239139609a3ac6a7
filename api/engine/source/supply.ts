import type { Offer, Prices, ShelfEntry, Supplier } from '../../../catalog-schema/index.ts';
import { findOneUnit, type OneUnit, type UnitTerms } from './one-unit.ts';

/** Prices, made ready to be asked about one part after the other. */
export interface Supply extends UnitTerms {
  /** the cheapest way to one unit needed today, remembered; undefined where the part has no price */
  unitOf(partId: string): OneUnit | undefined;
  /** units of it free on the shelf */
  freeOf(partId: string): number;
  /** whether the supplier's offer of it stands today */
  offers(partId: string, supplierId: string): boolean;
}

/** Cost: one pass over shelf and offers. */
export function createSupply(prices: Prices): Supply {
  const suppliers = new Map(prices.suppliers.map((supplier) => [supplier.id, supplier]));
  const shelf = new Map<string, ShelfEntry[]>();
  for (const entry of prices.shelf) push(shelf, entry.partId, entry);
  const offers = new Map<string, { offer: Offer; supplier: Supplier }[]>();
  for (const offer of prices.offers) {
    const supplier = suppliers.get(offer.supplierId);
    if (supplier) push(offers, offer.partId, { offer, supplier });
  }
  const terms: UnitTerms = { currency: prices.currency, today: prices.today, waitCostPerDay: prices.waitCostPerDay ?? 0 };
  const known = new Map<string, OneUnit | undefined>();
  return {
    ...terms,
    unitOf: (partId) => {
      if (!known.has(partId)) known.set(partId, findOneUnit({ shelf: shelf.get(partId) ?? [], offers: offers.get(partId) ?? [] }, terms));
      return known.get(partId);
    },
    freeOf: (partId) => (shelf.get(partId) ?? []).reduce((sum, { onHand, reserved = 0 }) => sum + onHand - reserved, 0),
    offers: (partId, supplierId) => (offers.get(partId) ?? [])
      .some(({ offer }) => offer.supplierId === supplierId && (offer.validUntil === undefined || offer.validUntil >= terms.today)),
  };
}

function push<T>(lists: Map<string, T[]>, key: string, value: T): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}
