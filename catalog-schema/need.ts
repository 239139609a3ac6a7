import { z } from 'zod';
import { readInput, type Read } from './input-fault.ts';
import { LIMITS } from './limits.ts';
import {
  currencyCode, day, identifier, money, pushDuplicates, text, wanted, wholeAboveZero, wholeZeroOrMore,
} from './scalar.ts';
import { checkSound } from './sound-check.ts';

export const shelfEntry = z.strictObject({
  partId: identifier, onHand: wholeZeroOrMore, reserved: wholeZeroOrMore.optional(), unitCost: money,
});
export type ShelfEntry = z.infer<typeof shelfEntry>;

/** A time of day on the shop's wall, 'HH:MM'. */
export const timeOfDay = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'want:a time of day such as 14:30' });

/**
 * When a supplier works: an order sent at the cut-off or later, or on another day, counts as sent on the next working day, and lead days are
 * working days. `workDays` by ISO 8601: Monday is 1, Sunday 7; every day where absent.
 */
export const supplierCalendar = z.strictObject({
  cutOff: timeOfDay.optional(), workDays: z.array(z.number().multipleOf(1).min(1).max(7)).min(1).max(7).optional(), holidays: z.array(day).max(LIMITS.holidays).optional(),
});
export type SupplierCalendar = z.infer<typeof supplierCalendar>;

export const supplier = z.strictObject({
  id: identifier, freight: money, freeFreightFrom: money.optional(), minOrder: money.optional(),
  /** without one, lead days are calendar days */
  calendar: supplierCalendar.optional(),
});
export type Supplier = z.infer<typeof supplier>;

export const offer = z.strictObject({
  supplierId: identifier, partId: identifier, price: money,
  breaks: z.array(z.strictObject({ minQty: wholeAboveZero, price: money })).optional(),
  /** comes back with the old part: shown, not counted */
  coreCharge: money.optional(),
  validUntil: day.optional(),
  pack: wholeAboveZero.optional(), minQty: wholeAboveZero.optional(), leadDays: wholeZeroOrMore,
  /** a hard limit */
  inStock: wholeZeroOrMore.optional(),
});
export type Offer = z.infer<typeof offer>;

/** What shelf, suppliers and offers have to hold to, wherever they stand. */
interface Stock { shelf: ShelfEntry[]; suppliers: Supplier[]; offers: Offer[] }

const stockChecks = [
  checkSound<Stock>(['shelf.*.reserved', 'shelf.*.onHand'], ({ shelf }, issues) => {
    shelf.forEach(({ reserved, onHand }, i) => {
      if ((reserved ?? 0) > onHand) issues.push(wanted(reserved, ['shelf', i, 'reserved'], `a number at most onHand (${onHand})`));
    });
  }),
  checkSound<Stock>(['suppliers.*.id'], ({ suppliers }, issues) => {
    pushDuplicates(issues, suppliers, (s) => s.id, (i) => ['suppliers', i, 'id'], 'supplier id');
  }),
  checkSound<Stock>(['offers.*.supplierId', 'offers.*.partId'], ({ offers }, issues) => {
    const seen = new Set<string>();
    offers.forEach(({ supplierId, partId }, i) => {
      const pair = JSON.stringify([supplierId, partId]);
      if (seen.has(pair)) issues.push(wanted(partId, ['offers', i, 'partId'], `a part that supplier ${supplierId} offers only once`));
      seen.add(pair);
    });
  }),
  checkSound<Stock>(['suppliers.*.id', 'offers.*.supplierId'], ({ suppliers, offers }, issues) => {
    const known = new Set(suppliers.map((s) => s.id));
    offers.forEach(({ supplierId }, i) => {
      if (!known.has(supplierId)) issues.push(wanted(supplierId, ['offers', i, 'supplierId'], 'the id of a supplier of this input'));
    });
  }),
  checkSound<Stock>(['offers.*.breaks.*.minQty'], ({ offers }, issues) => {
    offers.forEach(({ breaks }, i) => (breaks ?? []).forEach((step, j, all) => {
      const before = all[j - 1];
      if (before && step.minQty <= before.minQty) {
        issues.push(wanted(step.minQty, ['offers', i, 'breaks', j, 'minQty'], `a number above ${before.minQty}: breaks rise`));
      }
    }));
  }),
] as const;

const stockKeys = {
  shelf: z.array(shelfEntry), suppliers: z.array(supplier), offers: z.array(offer).max(LIMITS.offers),
};

const needShape = z.strictObject({
  currency: currencyCode,
  today: day,
  /** when orders would be sent, for suppliers with a cut-off; before it where absent */
  now: timeOfDay.optional(),
  needs: z.array(z.strictObject({
    id: identifier, qty: wholeAboveZero, by: day,
    /** per need, each day from `by` to the arrival of its last unit */
    waitCostPerDay: money.optional(),
    /** for the shelf itself: never from it */
    restock: z.boolean().optional(),
    anyOf: z.array(z.strictObject({ partId: identifier, extraCost: money.optional() })).min(1),
  })).max(LIMITS.needs),
  ...stockKeys,
});
export type Need = z.infer<typeof needShape>;
export const needSchema = needShape.check(
  checkSound<Need>(['needs.*.id'], ({ needs }, issues) => {
    pushDuplicates(issues, needs, (n) => n.id, (i) => ['needs', i, 'id'], 'need id');
  }),
  ...stockChecks,
);

const pricesShape = z.strictObject({
  currency: currencyCode,
  labourPerHour: money.optional(), misfitCost: money.optional(), waitCostPerDay: money.optional(),
  today: day,
  /** when orders would be sent, for suppliers with a cut-off; before it where absent */
  now: timeOfDay.optional(),
  kitPrices: z.array(z.strictObject({ item: text, price: money })).optional(),
  ...stockKeys,
});
export type Prices = z.infer<typeof pricesShape>;
export const pricesSchema = pricesShape.check(...stockChecks);

/** Reads what is needed, the shelf, the suppliers and their offers. */
export function readNeed(value: unknown): Read<Need> {
  return readInput(needSchema, value);
}

/** Reads the prices a fit is ranked by. */
export function readPrices(value: unknown): Read<Prices> {
  return readInput(pricesSchema, value);
}
