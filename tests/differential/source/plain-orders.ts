import type { Need } from '../../../catalog-schema/index.ts';

/** Least total in ten-thousandths of the currency, and units that stay open. */
export interface PlainOrders {
  readonly open: number;
  readonly total: number;
  /** as few orders as can be with no more open, and the least total with so many */
  readonly fewest: { readonly count: number; readonly total: number };
  /** days until each need's last unit, added up, as few as can be; likewise */
  readonly fastest: { readonly count: number; readonly total: number };
  /** nothing ordered; Infinity where more would stay open */
  readonly shelfOnly: number;
}

/** No order of these small problems needs more of one offer. */
const MOST_BOUGHT = 24;

const DIGITS: Record<string, number> = { EUR: 2, JPY: 0, KWD: 3 };

/**
 * The same question answered by trying everything, written apart from the engine: every way of dealing the needs' units to shelf and
 * offers, and for each every quantity of every line of every supplier. Amounts are whole ten-thousandths of the currency.
 */
export function orderPlainly(need: Need, mayUse: (needId: string, partId: string, from: string, leadDays: number) => boolean = () => true): PlainOrders {
  const step = 10 ** (4 - DIGITS[need.currency]!);
  const exact = (amount: number): number => Math.round(amount * 10_000);
  const rounded = (amount: number): number => {
    const low = Math.floor(amount / step);
    const rest = amount - low * step;
    const up = rest * 2 > step || (rest * 2 === step && low % 2 === 1);
    return (up ? low + 1 : low) * step;
  };
  const day = (text: string): number => Date.parse(text) / 86_400_000;

  interface Place { partId: string; lead: number; most: number; shelf?: number; offer?: number }
  const places: Place[] = [
    ...need.shelf.map((row, shelf) => ({ partId: row.partId, lead: 0, most: row.onHand - (row.reserved ?? 0), shelf })),
    ...need.offers.map((offer, index) => ({ partId: offer.partId, lead: offer.leadDays, most: MOST_BOUGHT, offer: index })).filter(({ offer }) => {
      const { validUntil } = need.offers[offer]!;
      return validUntil === undefined || !(validUntil < need.today);
    }),
  ];

  const goodsOf = (index: number, qty: number): number => {
    const offer = need.offers[index]!;
    let price = offer.price;
    for (const each of offer.breaks ?? []) if (qty >= each.minQty) price = each.price;
    return rounded(exact(price) * qty);
  };
  const mayBuy = (index: number, qty: number): boolean => {
    const { pack = 1, minQty = 0, inStock } = need.offers[index]!;
    return qty === 0 || (qty % pack === 0 && qty >= minQty && (inStock === undefined || qty <= inStock));
  };

  /** Least cost of a supplier's order that holds at least so many of each of its offers. */
  const known = new Map<string, number>();
  const orderCost = (supplierId: string, used: readonly number[]): number => {
    const key = `${supplierId} ${used.join(' ')}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const supplier = need.suppliers.find(({ id }) => id === supplierId)!;
    const mine = places.flatMap(({ offer }) => (offer !== undefined && need.offers[offer]!.supplierId === supplierId ? [offer] : []));
    let least = Number.POSITIVE_INFINITY;
    const go = (at: number, goods: number, any: boolean): void => {
      if (at === mine.length) {
        if (!any) { least = Math.min(least, 0); return; }
        if (goods < rounded(exact(supplier.minOrder ?? 0))) return;
        const free = supplier.freeFreightFrom !== undefined && goods >= rounded(exact(supplier.freeFreightFrom));
        least = Math.min(least, goods + (free ? 0 : rounded(exact(supplier.freight))));
        return;
      }
      for (let qty = used[mine[at]!]!; qty <= MOST_BOUGHT; qty++) if (mayBuy(mine[at]!, qty)) go(at + 1, goods + goodsOf(mine[at]!, qty), any || qty > 0);
    };
    go(0, 0, false);
    known.set(key, least);
    return least;
  };

  const never = { count: Number.POSITIVE_INFINITY, total: Number.POSITIVE_INFINITY };
  const nothing: PlainOrders = { open: Number.POSITIVE_INFINITY, total: Number.POSITIVE_INFINITY, fewest: never, fastest: never, shelfOnly: Number.POSITIVE_INFINITY };
  let best = nothing;
  const better = (before: PlainOrders['fewest'], count: number, total: number): PlainOrders['fewest'] => (
    count < before.count || (count === before.count && total < before.total) ? { count, total } : before);
  const taken = places.map(() => 0);
  const finish = (open: number, extra: number, days: number): void => {
    if (open > best.open) return;
    let total = extra;
    const bought = need.offers.map(() => 0);
    places.forEach((place, index) => {
      if (place.shelf !== undefined) total += rounded(exact(need.shelf[place.shelf]!.unitCost) * taken[index]!);
      else bought[place.offer!] = taken[index]!;
    });
    for (const { id } of need.suppliers) total += orderCost(id, bought.map((qty, index) => (need.offers[index]!.supplierId === id ? qty : 0)));
    if (!Number.isFinite(total)) return;
    if (open < best.open) best = { ...nothing, open };
    const count = need.suppliers.filter(({ id }) => bought.some((qty, index) => qty > 0 && need.offers[index]!.supplierId === id)).length;
    best = {
      open, total: Math.min(best.total, total), fewest: better(best.fewest, count, total), fastest: better(best.fastest, days, total),
      shelfOnly: count === 0 ? Math.min(best.shelfOnly, total) : best.shelfOnly,
    };
  };
  /** Deals the units of one need after the other. */
  const deal = (index: number, open: number, extra: number, days: number): void => {
    if (open > best.open) return;
    if (index === need.needs.length) return finish(open, extra, days);
    const { id, qty, by, waitCostPerDay = 0, anyOf } = need.needs[index]!;
    const fromOf = (place: Place): string => (place.offer === undefined ? 'shelf' : need.offers[place.offer]!.supplierId);
    const ways = anyOf.flatMap((option, at) => places.flatMap((place, where) => (place.partId === option.partId && mayUse(id, place.partId, fromOf(place), place.lead) ? [{ at, where }] : [])));
    const perOption = anyOf.map(() => 0);
    const share = (way: number, left: number, late: number, lead: number): void => {
      if (way === ways.length) {
        const extras = anyOf.reduce((sum, { extraCost = 0 }, at) => sum + rounded(exact(extraCost) * perOption[at]!), 0);
        deal(index + 1, open + left, extra + extras + rounded(exact(waitCostPerDay) * late), days + lead);
        return;
      }
      const { at, where } = ways[way]!;
      const place = places[where]!;
      for (let units = 0; units <= left; units++) {
        if (taken[where]! + units > place.most) break;
        taken[where]! += units;
        perOption[at]! += units;
        share(way + 1, left - units, units > 0 ? Math.max(late, day(need.today) + place.lead - day(by), 0) : late, units > 0 ? Math.max(lead, place.lead) : lead);
        taken[where]! -= units;
        perOption[at]! -= units;
      }
    };
    share(0, qty, 0, 0);
  };
  deal(0, 0, 0, 0);
  return best;
}
