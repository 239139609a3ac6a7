import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Offer, Prices, ShelfEntry, Supplier } from '../../../catalog-schema/index.ts';
import { describeUnit } from './one-unit.ts';
import { createSupply } from './supply.ts';

const prices = (more: Partial<Prices>): Prices => ({ currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [{ id: 'north', freight: 0 }], offers: [], ...more });
const offer = (more: Partial<Offer> = {}): Offer => ({ supplierId: 'north', partId: 'p', price: 20, leadDays: 2, ...more });
const unitOf = (more: Partial<Prices>) => createSupply(prices(more)).unitOf('p');

describe('one unit needed today', () => {
  it('comes from the shelf where a unit is free, without a wait', () => {
    const unit = unitOf({ waitCostPerDay: 5, shelf: [{ partId: 'p', onHand: 2, reserved: 1, unitCost: 25 }], offers: [offer()] });
    expect(unit).toMatchObject({ from: 'shelf', partMinor: 2500, waitMinor: 0, qty: 1 });
  });

  it('is ordered where every unit on the shelf is set aside', () => {
    const unit = unitOf({ waitCostPerDay: 5, shelf: [{ partId: 'p', onHand: 2, reserved: 2, unitCost: 1 }], offers: [offer()] });
    expect(unit).toMatchObject({ from: 'north', partMinor: 2000, waitMinor: 1000, leadDays: 2 });
  });

  it('is ordered though one is on the shelf, where waiting is cheaper', () => {
    const shelf = [{ partId: 'p', onHand: 1, unitCost: 21 }];
    expect(unitOf({ shelf, offers: [offer()] })?.from).toBe('north');
    expect(unitOf({ shelf, offers: [offer()], waitCostPerDay: 0.5 })?.from).toBe('shelf');
  });

  it('takes whole packs and the least quantity, and all that is bought counts', () => {
    expect(unitOf({ offers: [offer({ pack: 4, minQty: 6 })] })).toMatchObject({ qty: 8, partMinor: 16_000 });
  });

  it('buys up to a break where the line is then cheaper', () => {
    expect(unitOf({ offers: [offer({ breaks: [{ minQty: 3, price: 6 }] })] })).toMatchObject({ qty: 3, unitPrice: 6, partMinor: 1800 });
    expect(unitOf({ offers: [offer({ breaks: [{ minQty: 3, price: 7 }] })] })).toMatchObject({ qty: 1, partMinor: 2000 });
  });

  it('buys more to reach the order floor, and to save the freight where that is cheaper', () => {
    expect(unitOf({ suppliers: [{ id: 'north', freight: 0, minOrder: 50 }], offers: [offer()] })).toMatchObject({ qty: 3, partMinor: 6000 });
    expect(unitOf({ suppliers: [{ id: 'north', freight: 30, freeFreightFrom: 40 }], offers: [offer()] })).toMatchObject({ qty: 2, partMinor: 4000, freightMinor: 0 });
    expect(unitOf({ suppliers: [{ id: 'north', freight: 19, freeFreightFrom: 40 }], offers: [offer()] })).toMatchObject({ qty: 1, partMinor: 3900, freightMinor: 1900 });
  });

  it('is not had from an offer that ran out yesterday, and is from one that runs out today', () => {
    expect(unitOf({ offers: [offer({ validUntil: '2026-11-24' })] })).toBeUndefined();
    expect(unitOf({ offers: [offer({ validUntil: '2026-11-25' })] })?.qty).toBe(1);
  });

  it('is not had where stock is short of the least quantity, the pack or the order floor', () => {
    expect(unitOf({ offers: [offer({ minQty: 5, inStock: 4 })] })).toBeUndefined();
    expect(unitOf({ offers: [offer({ pack: 5, inStock: 4 })] })).toBeUndefined();
    expect(unitOf({ suppliers: [{ id: 'north', freight: 0, minOrder: 50 }], offers: [offer({ inStock: 2 })] })).toBeUndefined();
    expect(unitOf({ offers: [offer({ inStock: 0 })] })).toBeUndefined();
  });

  it('prefers of equal cost the earlier, then the shelf, then the supplier whose id comes first', () => {
    const suppliers = [{ id: 'b', freight: 0 }, { id: 'a', freight: 0 }];
    const from = (leadB: number, leadA: number, shelf: ShelfEntry[] = []) => unitOf({ suppliers, shelf, offers: [offer({ supplierId: 'b', leadDays: leadB }), offer({ supplierId: 'a', leadDays: leadA })] })?.from;
    expect(from(1, 2)).toBe('b');
    expect(from(2, 2)).toBe('a');
    expect(from(0, 0, [{ partId: 'p', onHand: 1, unitCost: 20 }])).toBe('shelf');
  });

  it('rounds the line half-even to the minor unit', () => {
    expect(unitOf({ offers: [offer({ price: 0.125 })] })?.partMinor).toBe(12);
    expect(unitOf({ currency: 'JPY', offers: [offer({ price: 2.5 })] })?.partMinor).toBe(2);
  });

  it('reaches an order floor of millions without counting every unit, and never with a price of nothing', () => {
    expect(unitOf({ suppliers: [{ id: 'north', freight: 0, minOrder: 5_000_000 }], offers: [offer({ price: 0.01 })] })?.qty).toBe(500_000_000);
    expect(unitOf({ suppliers: [{ id: 'north', freight: 0, minOrder: 5 }], offers: [offer({ price: 0 })] })).toBeUndefined();
  });

  it('arrives on a calendar day, across the end of a year and at the end of the calendar', () => {
    const arrives = (leadDays: number) => describeUnit(unitOf({ offers: [offer({ leadDays })] })!, prices({})).arrives;
    expect([arrives(0), arrives(37), arrives(Number.MAX_SAFE_INTEGER)]).toEqual(['2026-11-25', '2027-01-01', '9999-12-31']);
  });
});

// The same by trying every quantity: written apart, in exact ten-thousandths.
function tryEveryQuantity(shelf: readonly ShelfEntry[], offers: readonly Offer[], suppliers: readonly Supplier[], waitPerDay: number): number | undefined {
  const cents = (tenThousandths: number): number => {
    const whole = Math.floor(tenThousandths / 100);
    const rest = tenThousandths - whole * 100;
    return rest > 50 || (rest === 50 && whole % 2 === 1) ? whole + 1 : whole;
  };
  let least: number | undefined;
  const offerTotal = (total: number): void => {
    if (least === undefined || total < least) least = total;
  };
  for (const { onHand, reserved = 0, unitCost } of shelf) if (onHand - reserved >= 1) offerTotal(cents(Math.round(unitCost * 10_000)));
  for (const one of offers) {
    const supplier = suppliers.find(({ id }) => id === one.supplierId)!;
    if (one.validUntil !== undefined && one.validUntil < '2026-11-25') continue;
    for (let qty = 1; qty <= 400; qty++) {
      if (qty % (one.pack ?? 1) !== 0 || qty < (one.minQty ?? 1) || qty > (one.inStock ?? 400)) continue;
      let price = one.price;
      for (const step of one.breaks ?? []) if (qty >= step.minQty) price = step.price;
      const goods = cents(Math.round(price * 10_000) * qty);
      if (goods < Math.round((supplier.minOrder ?? 0) * 100)) continue;
      const isFree = supplier.freeFreightFrom !== undefined && goods >= Math.round(supplier.freeFreightFrom * 100);
      offerTotal(goods + (isFree ? 0 : Math.round(supplier.freight * 100)) + Math.round(waitPerDay * 100) * one.leadDays);
    }
  }
  return least;
}

describe('against trying every quantity up to 400', () => {
  const cent = (most: number) => fc.integer({ min: 0, max: most * 100 }).map((minor) => minor / 100);
  const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
  // A price of at least 0.50 reaches every floor below well before 400 units.
  const price = fc.integer({ min: 5_000, max: 400_000 }).map((exact) => exact / 10_000);
  const breaks = fc.uniqueArray(fc.record({ minQty: fc.integer({ min: 2, max: 40 }), price }), { maxLength: 4, selector: ({ minQty }) => minQty })
    .map((steps) => steps.toSorted((a, b) => a.minQty - b.minQty));
  const anOffer = fc.record({
    price, breaks, pack: optional(fc.integer({ min: 1, max: 12 })), minQty: optional(fc.integer({ min: 1, max: 30 })),
    inStock: optional(fc.integer({ min: 0, max: 80 })), leadDays: fc.integer({ min: 0, max: 9 }),
    validUntil: optional(fc.constantFrom('2026-11-24', '2026-11-25', '2026-12-01')),
  });
  const aSupplier = fc.record({ freight: cent(30), freeFreightFrom: optional(cent(90)), minOrder: optional(cent(90)) });
  const drop = <T extends object>(value: T): T => Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as T;

  it('finds the same least cost in 500 cases', () => {
    fc.assert(fc.property(fc.array(fc.tuple(anOffer, aSupplier), { minLength: 1, maxLength: 3 }), optional(cent(60)), cent(6), (pairs, shelfCost, waitCostPerDay) => {
      const suppliers = pairs.map(([, supplier], index) => drop({ id: `s${index}`, ...supplier })) as Supplier[];
      const offers = pairs.map(([one], index) => drop({ supplierId: `s${index}`, partId: 'p', ...one })) as Offer[];
      const shelf = shelfCost === undefined ? [] : [{ partId: 'p', onHand: 1, unitCost: shelfCost }];
      const unit = unitOf({ suppliers, offers, shelf, waitCostPerDay });
      expect(unit && unit.partMinor + unit.waitMinor).toBe(tryEveryQuantity(shelf, offers, suppliers, waitCostPerDay));
    }), { numRuns: 500, seed: 20261125 });
  });
});
