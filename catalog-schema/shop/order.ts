import { z } from 'zod';
import { evidence } from '../job/evidence.ts';
import { currencyCode, day, identifier, money, text, wholeAboveZero, wholeZeroOrMore } from '../scalar.ts';
import { returnReason } from './order-act.ts';
import { ORDER_STATES } from './order-log.ts';
import { taxCategory } from './supplier.ts';

export const orderStateName = z.enum(ORDER_STATES);
const done = z.strictObject({ at: z.iso.datetime(), by: text.nullable(), words: text.nullable() });

/** A job that waits for units of a line, with what it has got of them and whether its fault is proven. */
export const servedJob = z.strictObject({
  serveId: z.uuid(), jobId: z.uuid().nullable(), title: text.nullable(), qty: wholeAboveZero,
  /** units that came and were put aside for it */
  got: wholeZeroOrMore,
  /** the day the job wants it by, where it says so */
  by: day.nullable(),
  /** null for the shelf: there is no fault to prove */
  evidence: evidence.nullable(),
});
export type ServedJob = z.infer<typeof servedJob>;

export const purchaseLine = z.strictObject({
  lineId: z.uuid(), partId: identifier, qty: wholeAboveZero, unitPrice: money, goods: money,
  tax: taxCategory.nullable(), coreCharge: money.nullable(),
  /** good units that came; `over` of them were not ordered; `wrong` and `damaged` came and are not counted as good */
  good: wholeZeroOrMore, over: wholeZeroOrMore, wrong: wholeZeroOrMore, damaged: wholeZeroOrMore,
  /** ordered and not come: the back-order once something has come */
  open: wholeZeroOrMore,
  /** what may still be sent back: good units, wrong and damaged ones put aside, old parts for their core charge */
  back: z.strictObject({ good: wholeZeroOrMore, wrong: wholeZeroOrMore, damaged: wholeZeroOrMore, cores: wholeZeroOrMore }),
  /** the day the open units come: as promised, else by the supplier's calendar and lead days; null where none is open */
  arrives: day.nullable(),
  promised: z.boolean(),
  serves: z.array(servedJob),
});
export type PurchaseLine = z.infer<typeof purchaseLine>;

/** An order to a supplier as every door shows it; money is in `currency`. */
export const purchaseOrder = z.strictObject({
  id: z.uuid(), number: wholeAboveZero, supplierId: identifier, supplierName: text, currency: currencyCode, state: orderStateName,
  lines: z.array(purchaseLine),
  returns: z.array(z.strictObject({
    id: z.uuid(), lineId: z.uuid(), partId: identifier, qty: wholeAboveZero, reason: returnReason, jobId: z.uuid().nullable(), words: text.nullable(),
    credit: money, credited: money.nullable(), at: z.iso.datetime(), by: text.nullable(),
  })),
  sums: z.strictObject({
    goods: money, freight: money, pricesWithTax: z.boolean(),
    taxes: z.array(z.strictObject({ id: text, words: text, percent: z.number(), base: money, amount: money })), tax: money,
    /** what is to be paid; core charges are beside it */
    total: money, cores: money,
    /** what is missing to free freight, where the supplier has such a line and the order is under it; and to the supplier's least order */
    toFreeFreight: money.nullable(), short: money,
  }),
  /** the last day on which something open comes, and how many days past it today is */
  arrives: day.nullable(), daysLate: wholeZeroOrMore,
  drafted: done, approved: done.nullable(), sent: done.nullable(), ended: done.nullable(),
  /** the receipts, oldest first: days since the order was sent, as the supplier counts its own */
  receipts: z.array(z.strictObject({ id: z.uuid(), at: z.iso.datetime(), days: wholeZeroOrMore })),
  changedAt: z.iso.datetime(),
});
export type PurchaseOrder = z.infer<typeof purchaseOrder>;

/** An order in a list. */
export const orderSummary = purchaseOrder.pick({
  id: true, number: true, supplierId: true, supplierName: true, currency: true, state: true, arrives: true, daysLate: true, changedAt: true,
}).extend({
  lines: wholeZeroOrMore, total: money,
  /** units that came of units ordered; jobs that wait for some of them */
  good: wholeZeroOrMore, qty: wholeZeroOrMore, jobs: wholeZeroOrMore,
  /** returns whose credit has not come */
  creditsOpen: wholeZeroOrMore,
  sentAt: z.iso.datetime().nullable(),
});
export type OrderSummary = z.infer<typeof orderSummary>;
