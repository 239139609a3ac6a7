import type { Offer, Prices, ShelfRow } from '../../../catalog-schema/index.ts';
import { arrivalDate } from '../../worker/arrival.ts';

/** An offer as it stands for a quantity: whole packs, at least the least quantity, the price of the whole line. */
export interface StandingOffer {
  readonly supplierId: string;
  /** units that have to be bought */
  readonly qty: number;
  /** what one unit costs at that quantity, in the currency of the prices */
  readonly unitPrice: number;
  /** the day it comes when ordered today, 'YYYY-MM-DD' */
  readonly arrives: string;
}

/** Where a part is to be had: in a bin, else from a supplier, else nowhere. */
export type Whereabouts =
  | { readonly kind: 'shelf'; readonly bin: string; readonly free: number; readonly unitCost: number }
  | { readonly kind: 'offer'; readonly offer: StandingOffer; readonly emptyBin: string | undefined }
  | { readonly kind: 'nowhere'; readonly emptyBin: string | undefined };

/** Where `qty` units of a part come from soonest: a bin with enough free first, then the cheapest standing offer. */
export function findWhereabouts(partId: string, qty: number, shelf: readonly ShelfRow[], prices: Prices | undefined): Whereabouts {
  const row = shelf.find((entry) => entry.partId === partId);
  if (row !== undefined && row.free >= qty) return { kind: 'shelf', bin: row.bin, free: row.free, unitCost: row.unitCost };
  const offer = findCheapestOffer(partId, qty, prices);
  return offer === undefined ? { kind: 'nowhere', emptyBin: row?.bin } : { kind: 'offer', offer, emptyBin: row?.bin };
}

/** The standing offer that costs least for the quantity, then comes soonest, then first by supplier. */
export function findCheapestOffer(partId: string, qty: number, prices: Prices | undefined): StandingOffer | undefined {
  if (prices === undefined) return undefined;
  return prices.offers
    .filter((offer) => offer.partId === partId && stands(offer, qty, prices.today))
    .map((offer) => standFor(offer, qty, prices))
    .toSorted((a, b) => a.unitPrice * a.qty - b.unitPrice * b.qty || a.arrives.localeCompare(b.arrives) || a.supplierId.localeCompare(b.supplierId))[0];
}

function unitsOf(offer: Offer, qty: number): number {
  const pack = offer.pack ?? 1;
  return Math.ceil(Math.max(qty, offer.minQty ?? 1) / pack) * pack;
}

function stands(offer: Offer, qty: number, today: string): boolean {
  if (offer.validUntil !== undefined && offer.validUntil < today) return false;
  return offer.inStock === undefined || offer.inStock >= unitsOf(offer, qty);
}

function standFor(offer: Offer, qty: number, { today, now, suppliers }: Prices): StandingOffer {
  const units = unitsOf(offer, qty);
  const step = (offer.breaks ?? []).filter((entry) => entry.minQty <= units).at(-1);
  return { supplierId: offer.supplierId, qty: units, unitPrice: step?.price ?? offer.price, arrives: arrivalDate({ day: today, time: now }, offer.leadDays, suppliers.find(({ id }) => id === offer.supplierId)?.calendar) };
}
