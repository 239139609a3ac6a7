import { describe, expect, it } from 'vitest';
import type { Prices } from '../../../catalog-schema/index.ts';
import { findCheapestOffer, findWhereabouts } from './where-to-get.ts';

const prices: Prices = {
  currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [{ id: 'a', freight: 5 }, { id: 'b', freight: 5 }],
  offers: [
    { supplierId: 'a', partId: 'p', price: 20, leadDays: 2, breaks: [{ minQty: 5, price: 15 }] },
    { supplierId: 'b', partId: 'p', price: 19, leadDays: 6 },
    { supplierId: 'a', partId: 'packed', price: 3, leadDays: 1, pack: 10, minQty: 15 },
    { supplierId: 'a', partId: 'stale', price: 1, leadDays: 1, validUntil: '2026-11-24' },
    { supplierId: 'a', partId: 'last', price: 1, leadDays: 1, validUntil: '2026-11-25', inStock: 1 },
  ],
};
const row = { partId: 'p', bin: 'C4', onHand: 3, reserved: 1, free: 2, unitCost: 12 };

describe('where a part comes from', () => {
  it('is the bin while it has enough free, then the cheapest offer', () => {
    expect(findWhereabouts('p', 2, [row], prices)).toMatchObject({ kind: 'shelf', bin: 'C4', free: 2 });
    expect(findWhereabouts('p', 3, [row], prices)).toMatchObject({ kind: 'offer', emptyBin: 'C4', offer: { supplierId: 'b', unitPrice: 19 } });
    expect(findWhereabouts('q', 1, [], prices)).toEqual({ kind: 'nowhere', emptyBin: undefined });
    expect(findWhereabouts('p', 1, [], undefined).kind).toBe('nowhere');
  });

  it('takes the price of the break the whole line reaches', () => {
    expect(findCheapestOffer('p', 4, prices)).toMatchObject({ supplierId: 'b', unitPrice: 19, arrives: '2026-12-01' });
    expect(findCheapestOffer('p', 5, prices)).toMatchObject({ supplierId: 'a', unitPrice: 15, arrives: '2026-11-27' });
  });

  it('comes by the calendar of its supplier: working days, and the cut-off', () => {
    const suppliers = [{ id: 'a', freight: 5, calendar: { cutOff: '14:00', workDays: [1, 2, 3, 4, 5] } }, { id: 'b', freight: 5 }];
    expect(findCheapestOffer('p', 5, { ...prices, suppliers, now: '13:59' })).toMatchObject({ supplierId: 'a', arrives: '2026-11-27' });
    expect(findCheapestOffer('p', 5, { ...prices, suppliers, now: '14:00' })).toMatchObject({ supplierId: 'a', arrives: '2026-11-30' });
  });

  it('buys whole packs and at least the least quantity', () => {
    expect(findCheapestOffer('packed', 1, prices)).toMatchObject({ qty: 20 });
    expect(findCheapestOffer('packed', 21, prices)).toMatchObject({ qty: 30 });
  });

  it('takes an offer on its last day and not after, and no more than is in stock', () => {
    expect(findCheapestOffer('stale', 1, prices)).toBeUndefined();
    expect(findCheapestOffer('last', 1, prices)).toMatchObject({ unitPrice: 1 });
    expect(findCheapestOffer('last', 2, prices)).toBeUndefined();
  });
});
