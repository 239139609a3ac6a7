import { fromMinor, lineInMinor, type Offer, type ShelfEntry, type Supplier, type UnitSource } from '../../../catalog-schema/index.ts';
import { daysToArrival } from './arrival-date.ts';
import { addDays } from './days.ts';
import { reachGoods, toPacks } from './line-quantities.ts';

/** One unit of a part, needed today: what it costs to have it here, and when it is. */
export interface OneUnit {
  /** bought or taken, with freight, in whole minor units of the currency */
  readonly partMinor: number;
  /** for the days until it is here, likewise */
  readonly waitMinor: number;
  readonly leadDays: number;
  /** 'shelf', or the supplier's id */
  readonly from: string;
  readonly qty: number;
  readonly unitPrice: number;
  readonly freightMinor: number;
}

/** What a unit may be had from. `offers` are those of one part, with their suppliers. */
export interface UnitChoices {
  readonly shelf: readonly ShelfEntry[];
  readonly offers: readonly { readonly offer: Offer; readonly supplier: Supplier }[];
}

export interface UnitTerms {
  readonly currency: string;
  /** YYYY-MM-DD; an offer that was valid until an earlier day is not used */
  readonly today: string;
  /** when it would be sent, for suppliers with a cut-off */
  readonly now?: string | undefined;
  readonly waitCostPerDay: number;
}

/**
 * The cheapest way to one unit needed today, part and wait together: from the shelf, else one order of one offer, with its packs, least
 * quantity, breaks of the whole line, stock, the supplier's order floor and freight. More is bought than one where that is cheaper, and
 * all that is bought counts. Of equal cost the earlier, then the smaller quantity, then the shelf, then by supplier id.
 * @returns undefined where nobody can deliver
 */
export function findOneUnit({ shelf, offers }: UnitChoices, terms: UnitTerms): OneUnit | undefined {
  const ways: OneUnit[] = shelf.filter(({ onHand, reserved = 0 }) => onHand > reserved).map(({ unitCost }) => ({
    partMinor: lineInMinor(unitCost, 1, terms.currency), waitMinor: 0, leadDays: 0, from: 'shelf', qty: 1, unitPrice: unitCost, freightMinor: 0,
  }));
  for (const { offer, supplier } of offers) {
    if (offer.validUntil === undefined || offer.validUntil >= terms.today) ways.push(...listOrders(offer, supplier, terms));
  }
  return ways.reduce<OneUnit | undefined>((best, way) => (best === undefined || compareUnits(way, best) < 0 ? way : best), undefined);
}

/** What the answer shows of it. */
export function describeUnit({ from, qty, unitPrice, freightMinor, leadDays }: OneUnit, { currency, today }: Pick<UnitTerms, 'currency' | 'today'>): UnitSource {
  return { from, qty, unitPrice, freight: fromMinor(freightMinor, currency), arrives: addDays(today, leadDays) };
}

function compareUnits(a: OneUnit, b: OneUnit): number {
  return a.partMinor + a.waitMinor - (b.partMinor + b.waitMinor) || a.leadDays - b.leadDays || a.qty - b.qty
    || Number(b.from === 'shelf') - Number(a.from === 'shelf') || (a.from < b.from ? -1 : a.from > b.from ? 1 : 0);
}

/**
 * The orders of one offer that can be cheapest. Between two breaks goods only rise with the quantity, so of each stretch it is the least
 * quantity that reaches the order floor, or the least that reaches free freight where that saves more than it buys.
 */
function listOrders(offer: Offer, supplier: Supplier, { currency, today, now, waitCostPerDay }: UnitTerms): OneUnit[] {
  const { pack = 1, minQty = 1, inStock = Number.MAX_SAFE_INTEGER, breaks = [] } = offer;
  const leadDays = daysToArrival({ day: today, time: now }, offer.leadDays, supplier.calendar);
  const floorMinor = supplier.minOrder === undefined ? 0 : lineInMinor(supplier.minOrder, 1, currency);
  const freeMinor = supplier.freeFreightFrom === undefined ? Number.POSITIVE_INFINITY : lineInMinor(supplier.freeFreightFrom, 1, currency);
  const fullFreight = lineInMinor(supplier.freight, 1, currency);
  const waitMinor = waitCostPerDay === 0 ? 0 : lineInMinor(waitCostPerDay, leadDays, currency);
  const orders: OneUnit[] = [];
  for (let stretch = -1; stretch < breaks.length; stretch++) {
    const price = stretch < 0 ? offer.price : breaks[stretch]!.price;
    const last = Math.min(inStock, (breaks[stretch + 1]?.minQty ?? Number.POSITIVE_INFINITY) - 1);
    const goodsOf = (qty: number): number => lineInMinor(price, qty, currency);
    const first = reachGoods(floorMinor, toPacks(Math.max(stretch < 0 ? 1 : breaks[stretch]!.minQty, minQty), pack), last, pack, goodsOf);
    if (first === undefined) continue;
    const take = (qty: number): void => {
      const goods = goodsOf(qty);
      const freightMinor = goods >= freeMinor ? 0 : fullFreight;
      orders.push({ partMinor: goods + freightMinor, waitMinor, leadDays, from: offer.supplierId, qty, unitPrice: price, freightMinor });
    };
    take(first);
    const free = freeMinor < goodsOf(first) + fullFreight ? reachGoods(freeMinor, first, last, pack, goodsOf) : undefined;
    if (free !== undefined && free > first) take(free);
  }
  return orders;
}
