import { z } from 'zod';
import { LIMITS } from './limits.ts';
import {
  currencyCode, day, identifier, money, pushDuplicates, text, wanted, wholeAboveZero, wholeZeroOrMore,
} from './scalar.ts';

export const shelfEntry = z.strictObject({
  partId: identifier, onHand: wholeZeroOrMore, reserved: wholeZeroOrMore.optional(), unitCost: money,
});
export type ShelfEntry = z.infer<typeof shelfEntry>;

export const supplier = z.strictObject({
  id: identifier, freight: money, freeFreightFrom: money.optional(), minOrder: money.optional(),
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
type Stock = { shelf: ShelfEntry[]; suppliers: Supplier[]; offers: Offer[] };

function checkStock(stock: Stock, issues: unknown[]): void {
  stock.shelf.forEach((entry, i) => {
    if ((entry.reserved ?? 0) > entry.onHand) {
      issues.push(wanted(entry.reserved, ['shelf', i, 'reserved'], `a number at most onHand (${entry.onHand})`));
    }
  });
  pushDuplicates(issues, stock.suppliers, (s) => s.id, (i) => ['suppliers', i, 'id'], 'supplier id');
  const known = new Set(stock.suppliers.map((s) => s.id));
  pushDuplicates(issues, stock.offers, (o) => JSON.stringify([o.supplierId, o.partId]), (i) => ['offers', i, 'partId'],
    'part that this supplier offers once');
  stock.offers.forEach((o, i) => {
    if (!known.has(o.supplierId)) issues.push(wanted(o.supplierId, ['offers', i, 'supplierId'], 'the id of a supplier of this input'));
    (o.breaks ?? []).forEach((step, j, all) => {
      const before = all[j - 1];
      if (before && step.minQty <= before.minQty) {
        issues.push(wanted(step.minQty, ['offers', i, 'breaks', j, 'minQty'], `a number above ${before.minQty}: breaks rise`));
      }
    });
  });
}

const stockKeys = {
  shelf: z.array(shelfEntry), suppliers: z.array(supplier), offers: z.array(offer).max(LIMITS.offers),
};

const needShape = z.strictObject({
  currency: currencyCode,
  today: day,
  needs: z.array(z.strictObject({
    id: identifier, qty: wholeAboveZero, by: day,
    /** per need, each day from `by` to the arrival of its last unit */
    waitCostPerDay: money.optional(),
    anyOf: z.array(z.strictObject({ partId: identifier, extraCost: money.optional() })).min(1),
  })).max(LIMITS.needs),
  ...stockKeys,
});
export type Need = z.infer<typeof needShape>;
export const needSchema = needShape.check((context) => {
  pushDuplicates(context.issues, context.value.needs, (n) => n.id, (i) => ['needs', i, 'id'], 'need id');
  checkStock(context.value, context.issues);
});

const pricesShape = z.strictObject({
  currency: currencyCode,
  labourPerHour: money.optional(), misfitCost: money.optional(), waitCostPerDay: money.optional(),
  today: day,
  kitPrices: z.array(z.strictObject({ item: text, price: money })).optional(),
  ...stockKeys,
});
export type Prices = z.infer<typeof pricesShape>;
export const pricesSchema = pricesShape.check((context) => checkStock(context.value, context.issues));

