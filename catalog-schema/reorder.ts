import { z } from 'zod';
import { readInput, type Read } from './input-fault.ts';
import { LIMITS } from './limits.ts';
import { offer, supplier } from './need.ts';
import { aboveZero, currencyCode, day, identifier, money, pushDuplicates, text, wanted, wholeAboveZero, wholeZeroOrMore, zeroOrMore } from './scalar.ts';
import { checkSound } from './sound-check.ts';

/** Units of a part that were wanted on a day. */
export const demandEvent = z.strictObject({ day, qty: wholeAboveZero });
export type DemandEvent = z.infer<typeof demandEvent>;

/** `demand.json` of a folder laid out as demo-catalog/: what was wanted of each part, in days before the folder is loaded. */
export const pastDemand = z.array(z.strictObject({ partId: identifier, daysAgo: wholeAboveZero, qty: wholeAboveZero })).max(LIMITS.historyRows);
export type PastDemand = z.infer<typeof pastDemand>;

const stockedPart = z.strictObject({
  partId: identifier, onHand: wholeZeroOrMore, reserved: wholeZeroOrMore.optional(), onOrder: wholeZeroOrMore.optional(), unitCost: money,
  pack: wholeAboveZero.optional(),
  /** stated lead days, and the lead days of receipts that were seen */
  leadDays: zeroOrMore, receipts: z.array(zeroOrMore).max(LIMITS.historyRows).optional(),
  demand: z.array(demandEvent).max(LIMITS.historyRows),
  /** parts whose demand this one serves, with it */
  standsFor: z.array(z.strictObject({ partId: identifier, demand: z.array(demandEvent).max(LIMITS.historyRows) })).optional(),
});

const reorderShape = z.strictObject({
  currency: currencyCode, today: day,
  /** first day of the demand given */
  since: day,
  /** by the share of wanted units that the shelf is to have at once, or by what it costs to be without; `service` where absent */
  by: z.enum(['service', 'cost']).optional(),
  serviceLevel: z.number().min(0.5).max(0.9999).optional(),
  /** of a unit that is owed, a day */
  withoutCostPerDay: money.optional(),
  /** days from one look at the list to the next */
  reviewDays: wholeAboveZero.optional(),
  /** cost of keeping a unit for a year, of its unit cost */
  holdingPerYear: aboveZero.optional(),
  /** cost of an order line, beside goods and freight */
  orderCost: money.optional(),
  parts: z.array(stockedPart).max(LIMITS.offers),
  /** orders about to be sent, for which topping up to free freight is looked at */
  drafts: z.array(z.strictObject({ supplierId: identifier, goods: money })).optional(),
  suppliers: z.array(supplier).optional(), offers: z.array(offer).max(LIMITS.offers).optional(),
});
export type ReorderAsk = z.infer<typeof reorderShape>;
export const reorderSchema = reorderShape.check(
  checkSound<ReorderAsk>(['parts.*.partId'], ({ parts }, issues) => {
    pushDuplicates(issues, parts, (part) => part.partId, (i) => ['parts', i, 'partId'], 'part id');
  }),
  checkSound<ReorderAsk>(['since', 'today'], ({ since, today }, issues) => {
    if (since > today) issues.push(wanted(since, ['since'], `a day not after today (${today})`));
  }),
  checkSound<ReorderAsk>(['parts.*.onHand', 'parts.*.reserved'], ({ parts }, issues) => {
    parts.forEach(({ onHand, reserved = 0 }, i) => {
      if (reserved > onHand) issues.push(wanted(reserved, ['parts', i, 'reserved'], `a number at most onHand (${onHand})`));
    });
  }),
  checkSound<ReorderAsk>(['drafts.*.supplierId', 'suppliers.*.id'], ({ drafts = [], suppliers = [] }, issues) => {
    const known = new Set(suppliers.map(({ id }) => id));
    drafts.forEach(({ supplierId }, i) => {
      if (!known.has(supplierId)) issues.push(wanted(supplierId, ['drafts', i, 'supplierId'], 'the id of a supplier of this input'));
    });
  }),
);

/** Reads what is stocked, what was wanted of it, and how it is to be kept. */
export function readReorder(value: unknown): Read<ReorderAsk> {
  return readInput(reorderSchema, value);
}

/** How a shop wants its list: as in the question. */
export const reorderWish = z.strictObject({ by: reorderShape.shape.by, level: z.coerce.number().min(0.5).max(0.9999).optional() });
export type ReorderWish = z.infer<typeof reorderWish>;

const share = z.number().min(0).max(1);
/** One part of the list. `position`: free and on order. `order` is 0 where it is above its reorder point. */
export const reorderRow = z.strictObject({
  partId: z.string(), position: z.number(), order: z.number(), reorderAt: z.number(), orderUpTo: z.number(), batch: z.number(),
  /** share of wanted units that the shelf has at once, and the same with one unit less */
  service: share, serviceOneLess: share,
  /** units a year expected, and of them those of the parts it stands for */
  perYear: z.number(), pooled: z.array(z.strictObject({ partId: z.string(), perYear: z.number() })),
  model: z.enum(['poisson', 'negative-binomial']), dispersion: z.number(), decidedBy: z.enum(['own', 'all']),
  test: z.strictObject({ statistic: z.number(), freedom: z.number(), p: z.number() }).nullable(),
  lead: z.strictObject({ meanDays: z.number(), sdDays: z.number(), receipts: z.number() }),
  /** expected cost a year of order lines, units kept and units owed; null where being without has no price */
  costPerYear: z.number().nullable(),
});
export type ReorderRow = z.infer<typeof reorderRow>;

/** What an order could take on to reach free freight. `saves` = freight - holding - extra goods cost: above 0, else it is not listed. */
export const topUp = z.strictObject({
  supplierId: z.string(), goods: z.number(), freeFreightFrom: z.number(),
  add: z.array(z.strictObject({ partId: z.string(), qty: z.number(), unitPrice: z.number(), daysEarly: z.number() })),
  freight: z.number(), holding: z.number(), saves: z.number(),
});
export type TopUp = z.infer<typeof topUp>;

export const reorderAnswer = z.strictObject({
  rows: z.array(reorderRow), topUps: z.array(topUp), notToppedUp: z.array(z.strictObject({ supplierId: z.string(), why: text })),
  cautions: z.array(z.string()), assumptions: z.array(z.string()),
});
export type ReorderAnswer = z.infer<typeof reorderAnswer>;
