import { parse } from 'csv-parse/sync';
import { buffer } from 'node:stream/consumers';
import { describe, expect, it } from 'vitest';
import { writeOrderCsv } from './order-csv.ts';
import { nameFile } from './order-paper.ts';
import { drawOrderPdf } from './order-pdf.ts';
import { readPdfWords } from './read-pdf-words.ts';
import { makeLine, makePaper } from './sample-order.ts';
import { spell } from './typeface.ts';

describe('an order as a table', () => {
  it('is read back by another reader of RFC 4180, quotes, commas and line ends in it', () => {
    const title = 'Relay, "12 V",\r\nisolated';
    const csv = writeOrderCsv(makePaper([makeLine(1, { coreCharge: 2.5 }), makeLine(2, { tax: null, unitPrice: 0.0125, goods: 0.02 })], {}, { partOf: (partId) => ({ title: partId === 'p-1' ? title : '=1+1', numbers: [] }) }));
    expect(csv.endsWith('\r\n')).toBe(true);
    expect(csv.replaceAll(title.replaceAll('"', '""'), '').split('\r\n').slice(0, -1).every((line) => !/[\r\n]/.test(line))).toBe(true);
    const rows = parse(csv, { columns: true, record_delimiter: '\r\n' }) as Record<string, string>[];
    expect(rows).toEqual([
      expect.objectContaining({ order: '12', line: '1', part: 'p-1', title, quantity: '1', 'unit price': '12.3456', goods: '12.35', currency: 'EUR', tax: 'VAT 20 %', 'tax percent': '20', 'core charge': '2.50', account: 'K "7"' }),
      expect.objectContaining({ line: '2', title: '=1+1', 'unit price': '0.0125', goods: '0.02', tax: '', 'tax percent': '', 'core charge': '' }),
    ]);
  });
});

const close = (words: string): string => words.replace(/\s+/g, '');
const draw = async (paper: Parameters<typeof drawOrderPdf>[0], size: 'a4' | 'letter' = 'a4'): Promise<string> => (await buffer(drawOrderPdf(paper, size, { compress: false }))).toString('latin1');

describe('an order as a sheet', () => {
  it.each(['a4', 'letter'] as const)('reads back with its parties, lines, sums and core charges on %s, within the margins', async (size) => {
    const paper = makePaper([makeLine(1), makeLine(3, { coreCharge: 2 })]);
    const pdf = await draw(paper, size);
    const words = close(readPdfWords(pdf));
    for (const line of ['Order 12', 'The bench <at> the quay', 'Slip 3', 'Ebb & Söhne', 'Our account: K "7"', 'Date: 2026-11-25', 'Wanted by: 2026-11-30', 'p-3', 'Relay, "p-3"; Nobody N-1; core charge 2.00 each', '12.3456',
      'Goods 49.40', 'Freight 9.50', 'VAT 20 % (20 % of 58.90) 11.78', 'Total 70.68', 'back with the old parts: 4.00', 'page 1 of 1']) expect(words).toContain(close(spell(line)));
    expect(words).not.toContain('draft');
    const [width] = size === 'a4' ? [595.276] : [612];
    expect(Number(/\/MediaBox \[0 0 ([\d.]+)/.exec(pdf)![1])).toBeCloseTo(width!, 2);
    for (const [, x, y] of pdf.matchAll(/^1 0 0 1 ([\d.]+) ([\d.]+) Tm$/gm)) {
      expect(Number(x)).toBeGreaterThanOrEqual(50);
      expect(Number(x)).toBeLessThan(width! - 50);
      expect(Number(y)).toBeGreaterThan(20);
    }
  });

  it('goes over the page with its heads, and says of a draft that it is one', async () => {
    const pdf = await draw(makePaper(Array.from({ length: 60 }, (_, n) => makeLine(n + 1)), { approved: null }));
    const words = close(readPdfWords(pdf));
    const pages = [...pdf.matchAll(/\/MediaBox/g)].length;
    expect(pages).toBeGreaterThan(1);
    expect(words.split(close('PartWhatQuantityEachGoods')).length - 1).toBe(pages);
    expect(words).toContain(close(`Draft of order 12, page ${pages} of ${pages}`));
    for (let n = 1; n <= 60; n++) expect(words).toContain(`p-${n}`);
  });
});

it('an order\'s file is named after its number and its supplier, in letters that every system takes', () => {
  const paper = makePaper([makeLine(1)]);
  expect(nameFile({ ...paper, order: { ...paper.order, supplierId: 'a/b "ü"\n' } }, 'xml')).toBe('order-12-a-b-.xml');
});
