import { fromMinor, lineInMinor, type Offer } from '../../../catalog-schema/index.ts';

export interface OfferedLine {
  readonly supplierId: string;
  /** what is ordered: at least what is wanted, whole packs, at least the offer's `minQty` */
  readonly qty: number;
  readonly unitPrice: number;
  /** of the whole line, rounded half-even to the currency's minor unit */
  readonly goods: number;
  readonly leadDays: number;
}

/**
 * The line that costs least among the offers that stand on `today` (YYYY-MM-DD), freight left out: it belongs to the whole order.
 * The price break of the whole line counts for all its units, so more is ordered where that is cheaper.
 * Of equal cost, the earlier; then the smaller quantity; then by supplier id. Undefined where no offer can deliver `qty`.
 */
export function findCheapestLine(offers: readonly Offer[], qty: number, today: string, currency: string): OfferedLine | undefined {
  return offers
    .filter((offer) => offer.validUntil === undefined || offer.validUntil >= today)
    .flatMap((offer) => listLines(offer, qty, currency))
    .toSorted((a, b) => a.goods - b.goods || a.leadDays - b.leadDays || a.qty - b.qty || (a.supplierId < b.supplierId ? -1 : 1))[0];
}

/** The line of one offer that stands on `today`, for at least so many units: more where a break makes that cheaper. Undefined where it cannot deliver. */
export function findLine(offer: Offer, qty: number, today: string, currency: string): OfferedLine | undefined {
  return findCheapestLine([offer], qty, today, currency);
}

/** The least quantity, and each break above it. */
function listLines(offer: Offer, qty: number, currency: string): OfferedLine[] {
  const pack = offer.pack ?? 1;
  const wholePacks = (units: number): number => Math.ceil(units / pack) * pack;
  const least = wholePacks(Math.max(qty, offer.minQty ?? 1));
  const quantities = new Set([least, ...(offer.breaks ?? []).map((step) => wholePacks(step.minQty)).filter((units) => units > least)]);
  return [...quantities]
    .filter((units) => offer.inStock === undefined || units <= offer.inStock)
    .map((units) => {
      const unitPrice = priceAt(offer, units);
      return { supplierId: offer.supplierId, qty: units, unitPrice, goods: fromMinor(lineInMinor(unitPrice, units, currency), currency), leadDays: offer.leadDays };
    });
}

function priceAt(offer: Offer, units: number): number {
  return (offer.breaks ?? []).reduce((price, step) => units >= step.minQty ? step.price : price, offer.price);
}
