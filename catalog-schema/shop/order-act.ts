import { z } from 'zod';
import { evidence } from '../job/evidence.ts';
import { LIMITS } from '../limits.ts';
import { currencyCode, day, identifier, money, pushDuplicates, text, wholeAboveZero, wholeZeroOrMore } from '../scalar.ts';
import { checkSound } from '../sound-check.ts';
import { cameBackReason } from './outcome.ts';
import { binName } from './stock.ts';
import { taxCategory } from './supplier.ts';

const units = wholeAboveZero.max(LIMITS.orderUnits);
const noneOrMore = wholeZeroOrMore.max(LIMITS.orderUnits);

/** Units of a line that one job waits for; without a job, for the shelf. `id` names the wish: two jobs' wishes lie in one line. */
export const serve = z.strictObject({ id: z.uuid(), jobId: z.uuid().optional(), qty: units, needId: identifier.optional(), at: z.iso.datetime() });
export type Serve = z.infer<typeof serve>;

/** A line as it is ordered: its price, tax and lead days are those of the offer on the day it was written. */
export const orderedLine = z.strictObject({
  lineId: z.uuid(), partId: identifier, qty: units,
  /** with up to four decimals, for one unit at this quantity */
  unitPrice: money,
  tax: taxCategory.optional(),
  /** comes back with each old part: shown beside the sum, not in it */
  coreCharge: money.optional(),
  leadDays: wholeZeroOrMore,
  serves: z.array(serve).max(LIMITS.orderServes),
});
export type OrderedLine = z.infer<typeof orderedLine>;

/** What the supplier asks for beside the goods, on the day the order was written. */
export const orderTerms = z.strictObject({
  currency: currencyCode, freight: money, freeFreightFrom: money.optional(), minOrder: money.optional(),
  pricesWithTax: z.boolean(), freightTax: taxCategory.optional(),
});
export type OrderTerms = z.infer<typeof orderTerms>;

/** Why something goes back to a supplier; `core` is the old part, for its charge. */
export const RETURN_REASONS = ['wrong-fit', 'damaged', 'wrong-part', 'not-needed', 'core'] as const;
export const returnReason = z.enum(RETURN_REASONS);
export type ReturnReason = z.infer<typeof returnReason>;

/** Who did it, where that is known, and when. The id comes from the device: the same act again changes nothing. */
const act = { id: z.uuid(), by: text.optional(), at: z.iso.datetime() } as const;

const receivedLine = z.strictObject({
  lineId: z.uuid(),
  /** good units, put into a bin */
  good: noneOrMore,
  /** units of another part than was ordered, and damaged ones: put aside, for neither shelf nor job */
  wrong: noneOrMore.optional(), damaged: noneOrMore.optional(),
  /** where the good ones were put; else the part's own bin, else the bin for arrivals */
  bin: binName.optional(),
});
export type ReceivedLine = z.infer<typeof receivedLine>;

const uniqueLines = checkSound<{ lines: { lineId: string }[] }>(['lines.*.lineId'], ({ lines }, issues) => {
  pushDuplicates(issues, lines, ({ lineId }) => lineId, (index) => ['lines', index, 'lineId'], 'line id');
});

/** An order's quantity of a line set anew; 0 takes the line away, a line that is not there yet names its part. The price follows from the offer. */
const quantityChange = z.strictObject({ lineId: z.uuid(), qty: noneOrMore, partId: identifier.optional() });

const ways = {
  approved: z.strictObject({ kind: z.literal('approved'), ...act }),
  /** `how` in words: by mail, by telephone, who took it */
  sent: z.strictObject({ kind: z.literal('sent'), ...act, how: text.optional() }),
  /** the supplier has named a day for what is still open: of one line, or of all */
  promised: z.strictObject({ kind: z.literal('promised'), ...act, lineId: z.uuid().optional(), on: day }),
  received: z.strictObject({ kind: z.literal('received'), ...act, lines: z.array(receivedLine).min(1).max(LIMITS.orderLines), words: text.optional() }).check(uniqueLines as never),
  /** what is still open is not waited for any more */
  closed: z.strictObject({ kind: z.literal('closed'), ...act, words: text.optional() }),
  cancelled: z.strictObject({ kind: z.literal('cancelled'), ...act, words: text.optional() }),
  /**
   * Units sent back. `jobId` is the job a wrong fit did not fit on, and `why` what happened there: it counts against that part on such a
   * machine.
   */
  returned: z.strictObject({
    kind: z.literal('returned'), ...act, lineId: z.uuid(), qty: units, reason: returnReason,
    jobId: z.uuid().optional(), why: cameBackReason.optional(), words: text.optional(),
  }),
  /** the supplier's credit for a return has come; the amount in the order's currency */
  credited: z.strictObject({ kind: z.literal('credited'), ...act, returnId: z.uuid(), amount: money }),
} as const;

/** One act on an order, as a device asks for it. */
export const orderAct = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('changed'), ...act, lines: z.array(quantityChange).min(1).max(LIMITS.orderLines) }),
  ways.approved, ways.sent, ways.promised, ways.received, ways.closed, ways.cancelled, ways.returned, ways.credited,
]);
export type OrderAct = z.infer<typeof orderAct>;

/** Acts on one order, all taken or none. */
export const orderActs = z.strictObject({ acts: z.array(orderAct).min(1).max(100) });
export type OrderActs = z.infer<typeof orderActs>;

/** What is still to be asked of the offer when an order is written: its price, tax and lead days. */
export const newOrder = z.strictObject({
  id: z.uuid(), supplierId: identifier,
  lines: z.array(z.strictObject({
    lineId: z.uuid(), partId: identifier, qty: units,
    serves: z.array(z.strictObject({ id: z.uuid().optional(), jobId: z.uuid().optional(), qty: units, needId: identifier.optional() })).max(LIMITS.orderServes).optional(),
  })).min(1).max(LIMITS.orderLines),
  by: text.optional(), at: z.iso.datetime(),
}).check(uniqueLines as never);
export type NewOrder = z.infer<typeof newOrder>;

/** One event of an order as it is kept: what the act said, and what the shop knew then. Events are only ever added. */
export const orderEvent = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('drafted'), ...act, terms: orderTerms, lines: z.array(orderedLine) }),
  /** each line that is there from now on, whole */
  z.strictObject({ kind: z.literal('changed'), ...act, terms: orderTerms, lines: z.array(orderedLine) }),
  /** with what the jobs' evidence said when the order was approved: a mended machine shows its fault no more */
  ways.approved.extend({ evidence: z.array(z.strictObject({ serveId: z.uuid(), evidence })).max(LIMITS.orderLines * LIMITS.orderServes).optional() }),
  ways.sent, ways.promised, ways.received, ways.closed, ways.cancelled, ways.returned, ways.credited,
]);
export type OrderEvent = z.infer<typeof orderEvent>;
