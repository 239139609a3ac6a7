import type { Offer, TaxCategory } from '../../../catalog-schema/index.ts';

/** What was read of text that has one thing a line, or the line that does not read. */
export type ReadLines<T> = { readonly ok: true; readonly value: T[] } | { readonly ok: false; readonly line: string };

/** Days, one a line. */
export function readDays(text: string): ReadLines<string> {
  return readEach(text, (line) => (/^\d{4}-\d\d-\d\d$/.test(line) && !Number.isNaN(Date.parse(`${line}T00:00:00Z`)) && new Date(`${line}T00:00:00Z`).toISOString().startsWith(line) ? line : undefined));
}

/** Prices from a quantity on, one a line: `5: 8.25`. */
export function readBreaks(text: string): ReadLines<NonNullable<Offer['breaks']>[number]> {
  return readEach(text, (line) => {
    const match = /^(\d{1,7})\s*[:;=]\s*(\d+(?:[.,]\d{1,4})?)$/.exec(line);
    return match === null || Number(match[1]) === 0 ? undefined : { minQty: Number(match[1]), price: Number(match[2]!.replace(',', '.')) };
  });
}

/** Taxes, one a line: `full, 20, VAT 20 %`. */
export function readTaxes(text: string): ReadLines<TaxCategory> {
  return readEach(text, (line) => {
    const match = /^([^,]{1,40}),\s*(\d+(?:\.\d{1,4})?)\s*,\s*(.{1,80})$/.exec(line);
    return match === null || Number(match[2]) > 100 ? undefined : { id: match[1]!.trim(), percent: Number(match[2]), words: match[3]!.trim() };
  });
}

function readEach<T>(text: string, read: (line: string) => T | undefined): ReadLines<T> {
  const value: T[] = [];
  for (const line of text.split(/\r?\n/).map((each) => each.trim()).filter((each) => each !== '')) {
    const one = read(line);
    if (one === undefined) return { ok: false, line };
    value.push(one);
  }
  return { ok: true, value };
}
