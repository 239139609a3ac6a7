import type { Criterion } from '../../../catalog-schema/index.ts';
import type { Move } from '../../client/index.ts';

/** A line of a pick slip: units of a part out of one bin. */
export interface SlipLine { readonly partId: string; readonly bin: string; readonly qty: number; readonly open: readonly Criterion[] }

/** The slip with one more of a part from a bin. */
export function putOnSlip(lines: readonly SlipLine[], { partId, bin, open }: Omit<SlipLine, 'qty'>): SlipLine[] {
  const there = lines.some((line) => line.partId === partId && line.bin === bin);
  return there ? changeQty(lines, partId, bin, 1) : [...lines, { partId, bin, qty: 1, open }];
}

/** The slip with more or fewer of a line; a line with none left is taken off. */
export function changeQty(lines: readonly SlipLine[], partId: string, bin: string, by: number): SlipLine[] {
  return lines.map((line) => (line.partId === partId && line.bin === bin ? { ...line, qty: line.qty + by } : line)).filter(({ qty }) => qty > 0);
}

/** The sale of a slip as moves: all of its lines are one sale, so that it can be taken back as one. */
export function sellSlip(lines: readonly SlipLine[], saleId: string, reason: string): Move[] {
  return lines.map(({ partId, bin, qty }) => ({ kind: 'out', partId, bin, qty, reservationId: saleId, ...(reason === '' ? {} : { reason }) }));
}
