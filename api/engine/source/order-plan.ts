import { lineInMinor, type Need, type Offer, type Supplier } from '../../../catalog-schema/index.ts';
import { daysToArrival } from './arrival-date.ts';
import { countDays } from './days.ts';

/** Where units of a part come from: an entry of the shelf, or an offer with its supplier. Indices are those of the need's lists. */
export type Source =
  | { readonly kind: 'shelf'; readonly entry: number; readonly partId: string; readonly free: number; readonly leadDays: 0 }
  | { readonly kind: 'offer'; readonly offer: Offer; readonly supplier: Supplier; readonly partId: string; /** calendar days until it is here */ readonly leadDays: number };

/** Units that one option of a need takes from a source. */
export interface Use { readonly need: number; readonly option: number; readonly source: number; readonly qty: number }

/** What is bought of each source (offers only) and who uses what. */
export interface OrderPlan { readonly bought: ReadonlyMap<number, number>; readonly uses: readonly Use[] }

export interface PricedOrder {
  readonly supplier: Supplier;
  readonly lines: readonly { readonly partId: string; readonly qty: number; readonly unitPrice: number; readonly coreCharge: number }[];
  readonly goodsMinor: number;
  readonly freightMinor: number;
}

/** Every source that can deliver today, shelf first, then offers in the order given. */
export function listSources(need: Need): Source[] {
  const suppliers = new Map(need.suppliers.map((supplier) => [supplier.id, supplier]));
  const sources: Source[] = [];
  need.shelf.forEach(({ partId, onHand, reserved = 0 }, entry) => {
    if (onHand > reserved) sources.push({ kind: 'shelf', entry, partId, free: onHand - reserved, leadDays: 0 });
  });
  for (const offer of need.offers) {
    const supplier = suppliers.get(offer.supplierId);
    if (supplier && (offer.validUntil === undefined || offer.validUntil >= need.today)) {
      sources.push({ kind: 'offer', offer, supplier, partId: offer.partId, leadDays: daysToArrival({ day: need.today, time: need.now }, offer.leadDays, supplier.calendar) });
    }
  }
  return sources;
}

/** Whether a need may take units of a source at all: what is for the shelf does not come from it. */
export function mayUse(need: Need, index: number, source: Source): boolean {
  return source.kind === 'offer' || need.needs[index]!.restock !== true;
}

/** The price of each unit of a line of so many: of the last break that it reaches. */
export function priceAt(offer: Offer, qty: number): number {
  return offer.breaks?.findLast(({ minQty }) => qty >= minQty)?.price ?? offer.price;
}

/** Days from `by` to the arrival of a source's units, none where they are in time. */
export function daysLate(need: Need, index: number, source: Source): number {
  return Math.max(0, countDays(need.needs[index]!.by, need.today) + source.leadDays);
}

/** What waiting so many days costs a need, in minor units. */
export function waitMinor(need: Need, index: number, late: number): number {
  return lineInMinor(need.needs[index]!.waitCostPerDay ?? 0, late, need.currency);
}

/** Freight of an order in minor units. */
export function freightMinor(supplier: Supplier, goodsMinor: number, currency: string): number {
  const { freight, freeFreightFrom } = supplier;
  return freeFreightFrom !== undefined && goodsMinor >= lineInMinor(freeFreightFrom, 1, currency) ? 0 : lineInMinor(freight, 1, currency);
}

/** The orders of a plan, by supplier in order of id, lines by part. */
export function priceOrders(need: Need, sources: readonly Source[], plan: OrderPlan): PricedOrder[] {
  const bySupplier = new Map<string, { supplier: Supplier; lines: PricedOrder['lines'][number][]; goodsMinor: number }>();
  for (const [index, qty] of plan.bought) {
    const source = sources[index]!;
    if (qty === 0 || source.kind !== 'offer') continue;
    const order = bySupplier.get(source.supplier.id) ?? { supplier: source.supplier, lines: [], goodsMinor: 0 };
    const unitPrice = priceAt(source.offer, qty);
    order.lines.push({ partId: source.partId, qty, unitPrice, coreCharge: source.offer.coreCharge ?? 0 });
    order.goodsMinor += lineInMinor(unitPrice, qty, need.currency);
    bySupplier.set(source.supplier.id, order);
  }
  return [...bySupplier.values()].toSorted((a, b) => (a.supplier.id < b.supplier.id ? -1 : 1)).map(({ supplier, lines, goodsMinor }) => ({
    supplier, lines: lines.toSorted((a, b) => (a.partId < b.partId ? -1 : 1)), goodsMinor, freightMinor: freightMinor(supplier, goodsMinor, need.currency),
  }));
}

/** What a plan costs by the contract, counted in whole minor units: shelf units, orders with freight, extra costs, waiting. */
export function costPlan(need: Need, sources: readonly Source[], plan: OrderPlan): number {
  const { currency } = need;
  let total = priceOrders(need, sources, plan).reduce((sum, order) => sum + order.goodsMinor + order.freightMinor, 0);
  const shelf = new Map<number, number>();
  const options = new Map<string, Use>();
  const late = new Map<number, number>();
  for (const use of plan.uses) {
    const source = sources[use.source]!;
    if (source.kind === 'shelf') shelf.set(source.entry, (shelf.get(source.entry) ?? 0) + use.qty);
    const key = `${use.need}/${use.option}`;
    options.set(key, { ...use, qty: use.qty + (options.get(key)?.qty ?? 0) });
    late.set(use.need, Math.max(late.get(use.need) ?? 0, daysLate(need, use.need, source)));
  }
  for (const [entry, qty] of shelf) total += lineInMinor(need.shelf[entry]!.unitCost, qty, currency);
  for (const use of options.values()) total += lineInMinor(need.needs[use.need]!.anyOf[use.option]!.extraCost ?? 0, use.qty, currency);
  for (const [index, days] of late) total += waitMinor(need, index, days);
  return total;
}

/** Why a plan breaks a rule of the contract, or undefined: packs, least quantities, stock, order floors, and no more used than there is. */
export function findBroken(need: Need, sources: readonly Source[], plan: OrderPlan): string | undefined {
  const used = new Map<number, number>();
  for (const use of plan.uses) used.set(use.source, (used.get(use.source) ?? 0) + use.qty);
  for (const [index, source] of sources.entries()) {
    const qty = used.get(index) ?? 0;
    if (source.kind === 'shelf') {
      if (qty > source.free) return `shelf entry ${source.entry} has ${source.free}, ${qty} are used`;
      continue;
    }
    const bought = plan.bought.get(index) ?? 0;
    const { pack = 1, minQty = 1, inStock = Number.POSITIVE_INFINITY } = source.offer;
    const name = `${source.supplier.id}, ${source.partId}`;
    if (qty > bought) return `${name}: ${bought} bought, ${qty} used`;
    if (bought > 0 && (bought % pack !== 0 || bought < minQty || bought > inStock)) return `${name}: ${bought} cannot be ordered`;
  }
  for (const { supplier, goodsMinor } of priceOrders(need, sources, plan)) {
    if (goodsMinor < lineInMinor(supplier.minOrder ?? 0, 1, need.currency)) return `${supplier.id}: the order is below its floor`;
  }
  return undefined;
}
