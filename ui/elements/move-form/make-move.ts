import type { StockRow } from '../../../catalog-schema/index.ts';
import type { Move } from '../../client/index.ts';
import { shelfWords } from '../../words/shelf-screens.ts';

export type MoveAct = 'in' | 'out' | 'transfer' | 'scrap' | 'count';
/** What was typed into the form, as it was typed. */
export interface Filled { readonly bin?: string; readonly toBin?: string; readonly qty?: string; readonly unitCost?: string; readonly reason?: string }
export interface FormFault { readonly field: keyof Filled; readonly why: string }

const { part: say } = shelfWords;

/** The move a form stands for, without its part; or what is wrong, each at its field. `rows` are the part's bins. */
export function makeMove(act: MoveAct, filled: Filled, rows: readonly StockRow[]): { ok: true; move: Omit<Move, 'partId'> } | { ok: false; faults: FormFault[] } {
  const faults: FormFault[] = [];
  const told = (field: keyof Filled): string => (filled[field] ?? '').trim();
  const [bin, toBin, reason] = [told('bin'), told('toBin'), told('reason')];
  const row = rows.find((one) => one.bin === bin);
  const qty = /^\d{1,6}$/.test(told('qty')) ? Number(told('qty')) : Number.NaN;
  const cost = told('unitCost') === '' ? undefined : /^\d{1,9}(?:[.,]\d{1,4})?$/.test(told('unitCost')) ? Number(told('unitCost').replace(',', '.')) : Number.NaN;

  if (bin === '') faults.push({ field: 'bin', why: say.needBin });
  if (Number.isNaN(qty) || (qty === 0 && act !== 'count')) faults.push({ field: 'qty', why: say.needQty });
  else if (act !== 'in' && act !== 'count' && bin !== '' && qty > (row?.free ?? 0)) faults.push({ field: 'qty', why: say.notFree(row?.free ?? 0, bin) });
  if (act === 'transfer' && (toBin === '' || toBin === bin)) faults.push({ field: 'toBin', why: say.needBin });
  if (act === 'in' && (Number.isNaN(cost) || (cost === undefined && rows.length === 0))) faults.push({ field: 'unitCost', why: say.needCost });
  if ((act === 'scrap' || act === 'count') && reason === '') faults.push({ field: 'reason', why: say.needReason });
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, move: {
    kind: act, bin, qty, ...(act === 'transfer' ? { toBin } : {}), ...(act === 'in' && cost !== undefined ? { unitCost: cost } : {}), ...(reason === '' ? {} : { reason }),
    ...(act === 'count' ? { knownSeq: row?.seq ?? 0 } : {}),
  } };
}
