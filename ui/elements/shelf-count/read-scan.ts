import { readShelfCode, type Part, type StockRow } from '../../../catalog-schema/index.ts';
import { squash } from '../../screens/shelf/match-rows.ts';

/** What a scan or a typed text means while counting. */
export type Scan = { readonly kind: 'bin'; readonly bin: string } | { readonly kind: 'part'; readonly partId: string } | { readonly kind: 'several'; readonly count: number } | { readonly kind: 'strange' };

/**
 * A label of ours, else the name of a bin, else the id or a number of a part on the shelf. A label's bin need not be in the books yet; capitals
 * and signs are passed over where nothing is named exactly.
 */
export function readScan(text: string, rows: readonly StockRow[], partOf: (partId: string) => Part | undefined): Scan {
  const code = readShelfCode(text);
  const name = code === undefined ? text.trim() : code.kind === 'bin' ? code.bin : code.partId;
  const pick = (names: readonly string[]): string | undefined => (names.includes(name) ? name : names.find((one) => squash(one) === squash(name) && squash(name) !== ''));
  if (code?.kind !== 'part') {
    const bin = pick(rows.map((row) => row.bin)) ?? (code === undefined ? undefined : name);
    if (bin !== undefined) return { kind: 'bin', bin };
  }
  const ids = [...new Set(rows.map(({ partId }) => partId))];
  const partId = pick(ids) ?? (partOf(name) === undefined ? undefined : name);
  if (partId !== undefined) return { kind: 'part', partId };
  const numbered = ids.filter((id) => (partOf(id)?.numbers ?? []).some(({ number }) => squash(number) === squash(name) && squash(name) !== ''));
  if (numbered.length > 1) return { kind: 'several', count: numbered.length };
  return numbered.length === 1 ? { kind: 'part', partId: numbered[0]! } : { kind: 'strange' };
}
