import type { PurchaseLine, PurchaseOrder } from '../../../catalog-schema/index.ts';
import type { OrderPaper } from './order-paper.ts';

// A small invented order for tests.

const uuid = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const vat = { id: 'vat', words: 'VAT 20 %', percent: 20 };

export function makeLine(n: number, more: Partial<PurchaseLine> = {}): PurchaseLine {
  return {
    lineId: uuid(n), partId: `p-${n}`, qty: n, unitPrice: 12.3456, goods: 12.35 * n, tax: vat, coreCharge: null, good: 0, over: 0, wrong: 0, damaged: 0, open: n,
    back: { good: 0, wrong: 0, damaged: 0, cores: 0 }, arrives: '2026-11-30', promised: false, serves: [], ...more,
  };
}

export function makePaper(lines: PurchaseLine[], more: Partial<PurchaseOrder> = {}, paper: Partial<OrderPaper> = {}): OrderPaper {
  const at = '2026-11-25T09:00:00Z';
  return {
    order: {
      id: uuid(500), number: 12, supplierId: 's1', supplierName: 'Ebb & Söhne', currency: 'EUR', state: 'sent', lines, returns: [],
      sums: { goods: 49.4, freight: 9.5, pricesWithTax: false, taxes: [{ ...vat, base: 58.9, amount: 11.78 }], tax: 11.78, total: 70.68, cores: 4, toFreeFreight: null, short: 0 },
      arrives: '2026-11-30', daysLate: 0, drafted: { at, by: null, words: null }, approved: { at, by: null, words: null }, sent: { at, by: null, words: null }, ended: null, receipts: [], changedAt: at,
      ...more,
    },
    shop: { name: 'The bench <at> the quay', contact: 'Slip 3\nHarbour' }, supplier: { id: 's1', name: 'Ebb & Söhne', contact: 'Row 1\nHill', account: 'K "7"' }, issued: '2026-11-25',
    partOf: (partId) => ({ title: `Relay, "${partId}"`, numbers: [{ issuer: 'Nobody', number: 'N-1' }] }),
    ...paper,
  };
}
