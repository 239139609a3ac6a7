import { expect, test } from 'vitest';
import type { Offer } from '../../../catalog-schema/index.ts';
import { findCheapestLine } from './cheapest-offer.ts';

const today = '2026-11-25';
const offer = (more: Partial<Offer> = {}): Offer => ({ supplierId: 's1', partId: 'p', price: 10, leadDays: 2, ...more });
const cheapest = (offers: Offer[], qty = 1, currency = 'EUR') => findCheapestLine(offers, qty, today, currency);

test('the cheapest offer is taken; of equal ones the earlier, then by supplier', () => {
  expect(cheapest([offer(), offer({ supplierId: 's2', price: 9.99 })])?.supplierId).toBe('s2');
  expect(cheapest([offer({ leadDays: 5 }), offer({ supplierId: 's2' })])?.supplierId).toBe('s2');
  expect(cheapest([offer({ supplierId: 's2' }), offer()])?.supplierId).toBe('s1');
});

test('an offer stands on its last day and not after it', () => {
  expect(cheapest([offer({ validUntil: '2026-11-25' })])?.supplierId).toBe('s1');
  expect(cheapest([offer({ validUntil: '2026-11-24' })])).toBeUndefined();
});

test('whole packs are ordered, and at least the least quantity', () => {
  expect(cheapest([offer({ pack: 5 })], 6)).toMatchObject({ qty: 10, goods: 100 });
  expect(cheapest([offer({ pack: 5 })], 5)).toMatchObject({ qty: 5 });
  expect(cheapest([offer({ minQty: 3 })], 1)).toMatchObject({ qty: 3, goods: 30 });
  expect(cheapest([offer({ minQty: 7, pack: 5 })], 1)).toMatchObject({ qty: 10 });
});

test('a price that only looks low loses to one without packs', () => {
  expect(cheapest([offer({ price: 4, pack: 10 }), offer({ supplierId: 's2', price: 12 })], 2)).toMatchObject({ supplierId: 's2', qty: 2, goods: 24 });
});

test('the break of the whole line counts for all its units, from its own quantity on', () => {
  const breaks = [{ minQty: 5, price: 9 }, { minQty: 10, price: 8 }];
  expect(cheapest([offer({ breaks })], 4)).toMatchObject({ qty: 4, unitPrice: 10 });
  expect(cheapest([offer({ breaks })], 5)).toMatchObject({ qty: 5, unitPrice: 9 });
  expect(cheapest([offer({ breaks })], 12)).toMatchObject({ qty: 12, unitPrice: 8 });
});

test('more is ordered where a break makes that cheaper, and not where it costs the same', () => {
  expect(cheapest([offer({ breaks: [{ minQty: 10, price: 8 }] })], 9)).toMatchObject({ qty: 10, goods: 80 });
  expect(cheapest([offer({ breaks: [{ minQty: 10, price: 8 }] })], 8)).toMatchObject({ qty: 8, goods: 80 });
});

test('prices need not fall with a break', () => {
  expect(cheapest([offer({ breaks: [{ minQty: 3, price: 11 }] })], 3)).toMatchObject({ unitPrice: 11 });
});

test('what the supplier has in stock is a hard limit', () => {
  expect(cheapest([offer({ inStock: 3 })], 3)).toMatchObject({ qty: 3 });
  expect(cheapest([offer({ inStock: 3 })], 4)).toBeUndefined();
  expect(cheapest([offer({ inStock: 4, pack: 5 })], 4)).toBeUndefined();
  expect(cheapest([offer({ inStock: 9, breaks: [{ minQty: 10, price: 1 }] })], 9)).toMatchObject({ qty: 9, unitPrice: 10 });
});

test('a line is rounded half to even in the currency’s smallest coin', () => {
  expect(cheapest([offer({ price: 0.125 })], 1)?.goods).toBe(0.12);
  expect(cheapest([offer({ price: 0.135 })], 1)?.goods).toBe(0.14);
  expect(cheapest([offer({ price: 0.1251 })], 1)?.goods).toBe(0.13);
  expect(cheapest([offer({ price: 1.005 })], 1)?.goods).toBe(1);
  expect(cheapest([offer({ price: 0.1 })], 3)?.goods).toBe(0.3);
  expect(cheapest([offer({ price: 2.5 })], 1, 'JPY')?.goods).toBe(2);
  expect(cheapest([offer({ price: 1.2345 })], 1, 'KWD')?.goods).toBe(1.234);
});
