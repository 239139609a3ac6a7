import { amountInMinor, fromMinor, lineInMinor, type Offer, type ReorderAsk, type Supplier, type TopUp } from '../../../catalog-schema/index.ts';
import { ModelBuilder, priceAt, type SolveMixedInteger, type Term } from '../source/index.ts';

/** A part that may be added: batches of its policy, each taken so many years before it would have been ordered. */
export interface TopUpPart {
  readonly partId: string;
  readonly batch: number;
  /** units a year, above 0 */
  readonly perYear: number;
  /** units above the reorder point, free and on order */
  readonly above: number;
  /** cost of a unit kept for a year, in the currency */
  readonly holding: number;
}

/** No more batches of one part are added to one order. */
const MOST_BATCHES = 4;
const SECONDS = 2;

/**
 * What an order below the free-freight line could take on so that freight and holding together cost least: whole batches, each kept from now
 * until it would have been ordered. Listed only where that costs less than the freight; the freight of the later orders is not counted as
 * saved, nor the units that fewer people then wait for.
 * @returns the top-up, or why there is none
 */
export function findTopUp(
  draft: NonNullable<ReorderAsk['drafts']>[number], supplier: Supplier, offers: readonly Offer[], parts: readonly TopUpPart[], terms: { readonly currency: string; readonly today: string }, solve: SolveMixedInteger,
): TopUp | string {
  const { currency, today } = terms;
  const { freight, freeFreightFrom } = supplier;
  if (freeFreightFrom === undefined || freight === 0) return 'no line above which freight is free';
  const short = lineInMinor(freeFreightFrom, 1, currency) - lineInMinor(draft.goods, 1, currency);
  if (short <= 0) return 'freight is free already';
  const offerOf = new Map(offers.filter((offer) => offer.supplierId === supplier.id && (offer.validUntil ?? today) >= today).map((offer) => [offer.partId, offer]));
  const ways = parts.flatMap((part) => listWays(part, offerOf.get(part.partId), currency));
  const build = new ModelBuilder();
  const columns = ways.map((way) => build.addChoice(way.costMinor));
  for (const { partId } of parts) {
    const mine = columns.filter((_column, index) => ways[index]!.partId === partId).map((column): Term => [column, 1]);
    if (mine.length > 1) build.addRow(0, mine, 1);
  }
  if (columns.length === 0) return 'no part of the list comes from this supplier';
  build.addRow(short, columns.map((column, index): Term => [column, ways[index]!.goodsMinor]), Number.POSITIVE_INFINITY);
  const answer = solve(build, { seconds: SECONDS, gap: 0.9 });
  if (answer.status === 'infeasible') return 'the parts of the list that come from this supplier do not reach the line';
  if (answer.values === undefined) return 'none was found in time';
  const { values } = answer;
  const chosen = ways.filter((_way, index) => values[columns[index]!]! > 0.5);
  const costMinor = chosen.reduce((sum, way) => sum + way.costMinor, 0);
  const savesMinor = lineInMinor(freight, 1, currency) - costMinor;
  if (savesMinor <= 0) return `keeping more would cost ${fromMinor(costMinor, currency)} ${currency}, no less than the freight of ${freight}`;
  return {
    supplierId: supplier.id, goods: draft.goods, freeFreightFrom, freight, holding: fromMinor(costMinor, currency), saves: fromMinor(savesMinor, currency),
    add: chosen.map(({ partId, qty, unitPrice, daysEarly }) => ({ partId, qty, unitPrice, daysEarly })),
  };
}

interface AddedWay { readonly partId: string; readonly qty: number; readonly unitPrice: number; readonly daysEarly: number; readonly goodsMinor: number; readonly costMinor: number }

function listWays(part: TopUpPart, offer: Offer | undefined, currency: string): AddedWay[] {
  if (!offer || part.perYear <= 0) return [];
  const { pack = 1, minQty = 1, inStock = Number.POSITIVE_INFINITY } = offer;
  const batch = Math.ceil(Math.max(part.batch, minQty) / pack) * pack;
  const once = lineInMinor(priceAt(offer, batch), batch, currency);
  const ways: AddedWay[] = [];
  let years = 0;
  for (let batches = 1; batches <= MOST_BATCHES && batches * batch <= inStock; batches++) {
    years += Math.max(0, part.above + (batches - 1) * batch) / part.perYear;
    const qty = batches * batch;
    const unitPrice = priceAt(offer, qty);
    const goodsMinor = lineInMinor(unitPrice, qty, currency);
    const costMinor = amountInMinor(part.holding * batch * years, currency) + Math.max(0, goodsMinor - batches * once);
    ways.push({ partId: part.partId, qty, unitPrice, daysEarly: Math.round(part.above / part.perYear * 365), goodsMinor, costMinor });
  }
  return ways;
}
