import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { offerState, supplierState, type ShopOffer, type SupplierCard } from '../../../catalog-schema/index.ts';
import type { Services } from '../open-services.ts';
import { openTestServices } from '../open-test-services.ts';
import { makeId, makePart } from '../sample-data.ts';

let services: Services;
let remove: () => Promise<void>;
let folder: string;
const at = '2026-11-25T09:00:00Z';

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-suppliers-'));
  mkdirSync(join(folder, 'parts'));
  writeFileSync(join(folder, 'parts', 'a.json'), JSON.stringify([makePart('p1'), makePart('p2')]));
  writeFileSync(join(folder, 'shop.json'), JSON.stringify({
    currency: 'EUR', taxes: [{ id: 'vat', words: 'VAT', percent: 20 }], shelf: [], suppliers: [{ id: 's1', name: 'Ebb', freight: 5, tax: 'vat' }],
    offers: [{ supplierId: 's1', partId: 'p1', price: 9.5, leadDays: 2 }],
  }));
  ({ services, remove } = await openTestServices({ demoFolder: folder, clock: { now: () => new Date(2026, 10, 25, 9) } }));
});
afterEach(async () => {
  await remove();
  rmSync(folder, { recursive: true });
});

const card: SupplierCard = {
  id: 's1', name: 'Ebb & Co', contact: 'Row 1', account: '77', freight: 6, freeFreightFrom: 100, minOrder: 10, tax: 'vat', pricesWithTax: false,
  calendar: { cutOff: '15:00', workDays: [1, 2, 3, 4, 5], holidays: ['2026-12-25'] },
};
const offer = (more: Partial<ShopOffer> = {}): ShopOffer => ({ supplierId: 's1', partId: 'p1', price: 9, breaks: [{ minQty: 5, price: 8.25 }], leadDays: 2, pack: 5, validUntil: '2027-01-31', ...more });

test('a card is written in place, says who wrote it, and is what fits and plans reckon with', async () => {
  const edit = { id: makeId(1), supplier: card, by: 'Ans', at };
  const written = await services.suppliers.write(edit);
  expect(written.ok && supplierState.parse(written.value.state)).toMatchObject({ supplier: card, currency: 'EUR', counted: true, offers: 1, changed: { by: 'Ans', at }, lead: { days: [], meanDays: 2 } });
  expect((await services.prices.current()).suppliers).toEqual([{ id: 's1', freight: 6, freeFreightFrom: 100, minOrder: 10, calendar: card.calendar }]);
  expect((await services.prices.current()).now).toBe('09:00');
  await services.suppliers.write({ ...edit, id: makeId(2), supplier: { ...card, freight: 7 }, at: '2026-11-26T09:00:00Z' });
  // A repeat that comes late does not undo what was written after it.
  expect(await services.suppliers.write(edit)).toMatchObject({ value: { created: false, state: { supplier: { freight: 7 } } } });
});

test('a new supplier stands last, and one whose currency has no rate is not reckoned with', async () => {
  expect(await services.suppliers.write({ id: makeId(1), supplier: { id: 's2', freight: 1, currency: 'GBP' }, at })).toMatchObject({ value: { created: true, state: { counted: false, currency: 'GBP' } } });
  await services.suppliers.writeOffer('s2', { id: makeId(2), partId: 'p2', offer: offer({ supplierId: 's2', partId: 'p2' }), at });
  expect((await services.suppliers.list()).map(({ supplier }) => supplier.id)).toEqual(['s1', 's2']);
  expect((await services.prices.current()).suppliers.map(({ id }) => id)).toEqual(['s1']);
  await services.suppliers.write({ id: makeId(3), supplier: { id: 's2', freight: 1, currency: 'GBP', rate: 1.2 }, at });
  expect((await services.prices.current()).offers.find(({ supplierId }) => supplierId === 's2')).toMatchObject({ price: 10.8, breaks: [{ minQty: 5, price: 9.9 }] });
});

test('an offer is written in place or taken back, and a repeat changes nothing', async () => {
  const edit = { id: makeId(1), partId: 'p1', offer: offer(), by: 'Ans', at };
  for (const _ of [1, 2]) {
    const written = await services.suppliers.writeOffer('s1', edit);
    expect(written.ok && offerState.parse(written.value)).toEqual({ offer: offer(), changed: { by: 'Ans', at } });
  }
  expect((await services.prices.current()).offers).toMatchObject([{ price: 9, pack: 5, validUntil: '2027-01-31' }]);
  expect(await services.suppliers.writeOffer('s1', { id: makeId(2), partId: 'p1', offer: null, at })).toEqual({ ok: true, value: null });
  await services.suppliers.writeOffer('s1', edit);
  expect(await services.suppliers.offers('s1')).toEqual({ ok: true, value: [] });
});

test('what names nothing that is there is refused', async () => {
  expect(await services.suppliers.writeOffer('s9', { id: makeId(1), partId: 'p1', offer: null, at })).toMatchObject({ refusal: { kind: 'not-found' } });
  expect(await services.suppliers.offers('s9')).toMatchObject({ refusal: { kind: 'not-found' } });
  expect(await services.suppliers.read('s9')).toMatchObject({ refusal: { kind: 'not-found' } });
  expect(await services.suppliers.writeOffer('s1', { id: makeId(1), partId: 'p9', offer: null, at })).toMatchObject({ refusal: { faults: [{ path: 'partId' }] } });
  expect(await services.suppliers.writeOffer('s1', { id: makeId(1), partId: 'p1', offer: offer({ supplierId: 's2' }), at })).toMatchObject({ refusal: { faults: [{ path: 'offer.supplierId' }] } });
  expect(await services.suppliers.writeOffer('s1', { id: makeId(1), partId: 'p1', offer: offer({ tax: 'none' }), at })).toMatchObject({ refusal: { faults: [{ path: 'offer.tax' }] } });
  expect(await services.suppliers.write({ id: makeId(1), supplier: { ...card, tax: 'none' }, at })).toMatchObject({ refusal: { faults: [{ path: 'supplier.tax' }] } });
});

test('taxes are the shop\'s own; one that is in use cannot be left out', async () => {
  expect(await services.suppliers.writeShopCard({ id: makeId(1), shop: { taxes: [] }, at })).toMatchObject({ refusal: { kind: 'conflict', why: expect.stringContaining('vat') as string } });
  const shop = { name: 'The bench', contact: 'Slip 3', taxes: [{ id: 'vat', words: 'VAT', percent: 21.5 }, { id: 'none', words: 'free of tax', percent: 0 }] };
  expect(await services.suppliers.writeShopCard({ id: makeId(2), shop, at })).toEqual({ ok: true, value: shop });
  expect((await services.prices.current()).currency).toBe('EUR');
  const order = await services.orders.draftOrder({ id: makeId(3), supplierId: 's1', lines: [{ lineId: makeId(4), partId: 'p1', qty: 2 }], at });
  expect(order).toMatchObject({ value: { order: { sums: { goods: 19, freight: 5, tax: 5.16, total: 29.16 } } } });
});
