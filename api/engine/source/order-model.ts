import { lineInMinor, type Need, type Offer, type Supplier } from '../../../catalog-schema/index.ts';
import { ModelBuilder, type MixedIntegerModel, type Term } from './mixed-integer.ts';
import { reachGoods } from './line-quantities.ts';
import { daysLate, mayUse, waitMinor, type OrderPlan, type Source, type Use } from './order-plan.ts';

/** A line whose price is no whole number of minor units gets a choice for each quantity, up to so many; its rounding is then exact. */
const MOST_ROUNDED_BY_HAND = 400;

/** Beyond what anybody orders: an offer without a limit ends here. */
const MOST_UNITS = 1_000_000_000;

/** The columns a plan is read from. */
export interface OrderModel {
  readonly model: MixedIntegerModel;
  /** every cost is a whole number of minor units, rounded as the contract rounds */
  readonly exact: boolean;
  readPlan(values: readonly number[]): OrderPlan;
}

/** What is asked of a plan. */
export interface Aim {
  /** what is made least: the total of the contract, units that nobody brings, orders, or the days until each need's last unit is here, added up */
  readonly least: 'cost' | 'open-units' | 'orders' | 'arrival-days';
  /** most units that may stay open; none where absent, any where they are what is made least */
  readonly open?: number;
  readonly mostOrders?: number;
  readonly mostArrivalDays?: number;
  /** which uses may be made; indices are those of the need's lists and of the sources. All where absent. */
  readonly allows?: (use: { readonly need: number; readonly source: number }) => boolean;
}

/**
 * The orders as a mixed-integer programme in minor units of the currency. Of an offer: whole packs in each stretch between two breaks, one
 * stretch at most. Of a supplier: used or not, freight free or not. Of a need: units from each source, and for each number of days late
 * whether any unit comes so late. Quantities beyond the need are bounded by what an order floor or free freight could ask for.
 */
export function writeOrderModel(need: Need, sources: readonly Source[], aim: Aim): OrderModel {
  const build = new ModelBuilder();
  const { currency } = need;
  const counts = aim.least === 'cost';
  const countsOrders = aim.least === 'orders' || aim.mostOrders !== undefined;
  const mostOpen = aim.open ?? (aim.least === 'open-units' ? Number.POSITIVE_INFINITY : 0);
  const usedSuppliers: Term[] = [];
  const arrivals: Term[] = [];
  let exact = true;

  /** What a line of `count` packs comes to, rounded half-even to the minor unit, as terms; `count` is at most `most`. */
  const writeLine = (price: number, pack: number, count: readonly Term[], most: number): Term[] => {
    const tenThousand = lineInMinor(price, 10_000 * pack, currency);
    if (tenThousand % 10_000 === 0) return scale(count, tenThousand / 10_000);
    if (most <= MOST_ROUNDED_BY_HAND) {
      const chosen = Array.from({ length: most + 1 }, () => build.addChoice());
      build.addRow(1, chosen.map((column): Term => [column, 1]), 1);
      build.addRow(0, [...chosen.map((column, packs): Term => [column, packs]), ...scale(count, -1)], 0);
      return chosen.map((column, packs): Term => [column, lineInMinor(price, packs * pack, currency)]);
    }
    exact = false;
    const line = build.addWhole(Math.ceil(tenThousand / 10_000 * most) + 1);
    build.addRow(-0.5, [[line, 1], ...scale(count, -tenThousand / 10_000)], 0.5);
    return [[line, 1]];
  };

  // needs: units from each source, and how late the last one comes
  const demand = new Map<string, number>();
  for (const { qty, anyOf } of need.needs) for (const partId of new Set(anyOf.map((option) => option.partId))) demand.set(partId, (demand.get(partId) ?? 0) + qty);
  const sourcesOf = groupBy(sources.map((_, index) => index), (index) => sources[index]!.partId);
  const uses: { readonly column: number; readonly need: number; readonly option: number; readonly source: number }[] = [];
  const unmet: number[] = [];
  need.needs.forEach(({ qty, anyOf }, index) => {
    const open = build.addWhole(Math.min(qty, mostOpen), aim.least === 'open-units' ? 1 : 0);
    unmet.push(open);
    const mine: typeof uses = [];
    anyOf.forEach(({ partId, extraCost = 0 }, option) => {
      const taken = (sourcesOf.get(partId) ?? []).filter((source) => mayUse(need, index, sources[source]!) && (aim.allows?.({ need: index, source }) ?? true)).map((source) => ({ column: build.addWhole(qty), need: index, option, source }));
      mine.push(...taken);
      if (counts && taken.length > 0) build.charge(writeLine(extraCost, 1, taken.map(({ column }): Term => [column, 1]), qty));
    });
    uses.push(...mine);
    build.addRow(qty, [...mine.map(({ column }): Term => [column, 1]), [open, 1]], qty);
    if (counts) chargeWait(index, mine);
    if (aim.least === 'arrival-days' || aim.mostArrivalDays !== undefined) countArrival(index, mine);
  });

  /** For each number of days whether any unit takes so long, as a term of the days it adds to the days before. */
  function countArrival(index: number, mine: typeof uses): void {
    let before = 0;
    for (const days of [...new Set(mine.map(({ source }) => sources[source]!.leadDays))].toSorted((a, b) => a - b)) {
      if (days === 0) continue;
      const choice = build.addChoice(aim.least === 'arrival-days' ? days - before : 0);
      const late = mine.filter(({ source }) => sources[source]!.leadDays >= days);
      build.addRow(Number.NEGATIVE_INFINITY, [...late.map(({ column }): Term => [column, 1]), [choice, -need.needs[index]!.qty]], 0);
      arrivals.push([choice, days - before]);
      before = days;
    }
  }

  function chargeWait(index: number, mine: typeof uses): void {
    const lateOf = new Map(mine.map(({ source }) => [source, daysLate(need, index, sources[source]!)]));
    let before: { readonly choice: number; readonly minor: number } | undefined;
    for (const days of [...new Set(lateOf.values())].toSorted((a, b) => a - b)) {
      const minor = waitMinor(need, index, days);
      if (minor === (before?.minor ?? 0)) continue;
      const choice = build.addChoice(minor - (before?.minor ?? 0));
      const late = mine.filter(({ source }) => lateOf.get(source)! >= days);
      build.addRow(Number.NEGATIVE_INFINITY, [...late.map(({ column }): Term => [column, 1]), [choice, -need.needs[index]!.qty]], 0);
      if (before) build.addRow(Number.NEGATIVE_INFINITY, [[choice, 1], [before.choice, -1]], 0);
      before = { choice, minor };
    }
  }

  // the shelf
  const usesOf = groupBy(uses, ({ source }) => source);
  const unitsOf = (source: number): Term[] => (usesOf.get(source) ?? []).map(({ column }): Term => [column, 1]);
  sources.forEach((source, index) => {
    const units = unitsOf(index);
    if (source.kind !== 'shelf' || units.length === 0) return;
    build.addRow(0, units, source.free);
    if (counts) build.charge(writeLine(need.shelf[source.entry]!.unitCost, 1, units, Math.min(source.free, demand.get(source.partId)!)));
  });

  // suppliers and their offers
  const packsOf = new Map<number, { readonly column: number; readonly pack: number }[]>();
  const offers = sources.flatMap((source, index) => (source.kind === 'offer' ? [{ index, offer: source.offer, supplier: source.supplier }] : []));
  for (const [supplier, mine] of groupBy(offers, (entry) => entry.supplier)) {
    if (mine.some(({ offer }) => demand.has(offer.partId))) writeSupplier(supplier, mine);
  }

  function writeSupplier(supplier: Supplier, offers: readonly { readonly index: number; readonly offer: Offer }[]): void {
    const floor = lineInMinor(supplier.minOrder ?? 0, 1, currency);
    const freight = counts ? lineInMinor(supplier.freight, 1, currency) : 0;
    const freeFrom = freight > 0 && supplier.freeFreightFrom !== undefined ? lineInMinor(supplier.freeFreightFrom, 1, currency) : undefined;
    const wanted = Math.max(floor, freeFrom ?? 0);
    const used = floor > 0 || freight > 0 || countsOrders ? build.addChoice(counts ? freight : aim.least === 'orders' ? 1 : 0) : undefined;
    if (used !== undefined) usedSuppliers.push([used, 1]);
    const goods: Term[] = [];
    for (const { index, offer } of offers) {
      const wantedUnits = demand.get(offer.partId) ?? 0;
      if (wantedUnits === 0 && wanted === 0) continue;
      const stretches = listStretches(offer, wantedUnits, wanted, currency);
      const choices: Term[] = [];
      const columns: { column: number; pack: number }[] = [];
      const { pack = 1 } = offer;
      for (const { price, first, last } of stretches) {
        const choice = build.addChoice();
        choices.push([choice, 1]);
        // The least packs come with the choice itself, the rest are counted.
        const more = last > first ? build.addWhole(last - first) : undefined;
        if (more !== undefined) build.addRow(Number.NEGATIVE_INFINITY, [[more, 1], [choice, first - last]], 0);
        columns.push({ column: choice, pack: first * pack });
        if (more !== undefined) columns.push({ column: more, pack });
        if (counts || wanted > 0) {
          const line = writeLine(price, pack, more === undefined ? [[choice, first]] : [[choice, first], [more, 1]], last);
          if (counts) build.charge(line);
          goods.push(...line);
        }
      }
      if (columns.length > 0) packsOf.set(index, columns);
      if (choices.length > 0) build.addRow(Number.NEGATIVE_INFINITY, used === undefined ? choices : [...choices, [used, -1]], used === undefined ? 1 : 0);
      const bought = columns.map(({ column, pack: units }): Term => [column, -units]);
      if (wantedUnits > 0) build.addRow(Number.NEGATIVE_INFINITY, [...unitsOf(index), ...bought], 0);
      // Follows from the row before; written out, it keeps the relaxation from using a fraction of a line.
      for (const { column, need: n } of usesOf.get(index) ?? []) build.addRow(Number.NEGATIVE_INFINITY, [[column, 1], ...choices.map(([choice]): Term => [choice, -need.needs[n]!.qty])], 0);
    }
    if (used === undefined) return;
    if (floor > 0) build.addRow(0, [...goods, [used, -floor]], Number.POSITIVE_INFINITY);
    if (freeFrom === undefined) return;
    const free = build.addChoice(-freight);
    build.addRow(0, [...goods, [free, -freeFrom]], Number.POSITIVE_INFINITY);
    build.addRow(Number.NEGATIVE_INFINITY, [[free, 1], [used, -1]], 0);
  }

  // units of an offer that no order can hold
  for (const [source, mine] of usesOf) {
    if (sources[source]!.kind === 'offer' && !packsOf.has(source)) build.addRow(0, mine.map(({ column }): Term => [column, 1]), 0);
  }
  if (Number.isFinite(mostOpen) && mostOpen > 0) build.addRow(0, unmet.map((column): Term => [column, 1]), mostOpen);
  if (aim.mostOrders !== undefined) build.addRow(0, usedSuppliers, aim.mostOrders);
  if (aim.mostArrivalDays !== undefined) build.addRow(0, arrivals, aim.mostArrivalDays);

  return {
    model: build, exact,
    readPlan: (values) => {
      const read = (column: number): number => Math.round(values[column]!);
      return {
        bought: new Map([...packsOf].map(([index, columns]) => [index, columns.reduce((sum, { column, pack }) => sum + read(column) * pack, 0)])),
        uses: uses.map(({ column, ...use }): Use => ({ ...use, qty: read(column) })).filter(({ qty }) => qty > 0),
      };
    },
  };
}

function groupBy<T, K>(list: readonly T[], keyOf: (entry: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const entry of list) {
    const group = groups.get(keyOf(entry));
    if (group) group.push(entry);
    else groups.set(keyOf(entry), [entry]);
  }
  return groups;
}

function scale(terms: readonly Term[], by: number): Term[] { return terms.map(([column, factor]) => [column, factor * by]); }

interface Stretch { readonly price: number; /** in packs */ readonly first: number; readonly last: number }

/**
 * An offer's quantities between two breaks, in packs, that can be cheapest: no more than the need asks for, or the least of the stretch, or
 * what this line alone would need to bring the goods to `wanted` minor units. A pack beyond all three can be left out at no cost.
 */
function listStretches(offer: Offer, units: number, wanted: number, currency: string): Stretch[] {
  const { pack = 1, minQty = 1, inStock = Number.POSITIVE_INFINITY, breaks = [] } = offer;
  const stretches: Stretch[] = [];
  for (let step = -1; step < breaks.length; step++) {
    const price = step < 0 ? offer.price : breaks[step]!.price;
    const first = Math.ceil(Math.max(step < 0 ? 1 : breaks[step]!.minQty, minQty) / pack);
    const end = Math.floor(Math.min(inStock, (breaks[step + 1]?.minQty ?? Number.POSITIVE_INFINITY) - 1) / pack);
    if (first > end) continue;
    const most = Number.isFinite(end) ? end * pack : MOST_UNITS;
    const forGoods = wanted > 0 ? reachGoods(wanted, first * pack, most, pack, (qty) => lineInMinor(price, qty, currency)) ?? (price > 0 ? most : 0) : 0;
    stretches.push({ price, first, last: Math.min(end, Math.max(first, Math.ceil(units / pack), forGoods / pack)) });
  }
  return stretches;
}
