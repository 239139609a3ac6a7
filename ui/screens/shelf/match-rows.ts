import type { Part, StockRow } from '../../../catalog-schema/index.ts';

/** Order of bins as a person walks them: B2 before B10. */
const WALK = new Intl.Collator('en', { numeric: true });

export function compareBins(a: string, b: string): number { return WALK.compare(a, b); }

/** Rows in the order of the bins, then of the parts' names. */
export function walkRows(rows: readonly StockRow[], titleOf: (partId: string) => string): StockRow[] {
  return rows.toSorted((a, b) => compareBins(a.bin, b.bin) || WALK.compare(titleOf(a.partId), titleOf(b.partId)) || (a.partId < b.partId ? -1 : 1));
}

/** A text without what people write differently: capitals, spaces and signs. */
export function squash(text: string): string {
  return text.normalize('NFKC').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
}

/** Rows whose bin is the text, or whose part has every word of it in its name, its id or a number. */
export function matchRows(rows: readonly StockRow[], text: string, partOf: (partId: string) => Part | undefined): StockRow[] {
  const whole = squash(text);
  if (whole === '') return [...rows];
  const inBin = rows.filter(({ bin }) => squash(bin) === whole);
  if (inBin.length > 0) return inBin;
  const wanted = text.split(/\s+/).map(squash).filter((word) => word !== '');
  return rows.filter(({ partId, bin }) => {
    const part = partOf(partId);
    const told = [partId, part?.title ?? '', bin, ...(part?.numbers ?? []).map(({ number }) => number)].map(squash);
    return told.includes(whole) || wanted.every((word) => told.some((one) => one.includes(word)));
  });
}
