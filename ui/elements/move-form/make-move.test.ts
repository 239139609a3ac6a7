import { expect, it } from 'vitest';
import type { StockRow } from '../../../catalog-schema/index.ts';
import { makeMove, type Filled, type MoveAct } from './make-move.ts';

const rows: StockRow[] = [{ partId: 'p', bin: 'A1', onHand: 4, reserved: 1, free: 3, unitCost: 10, currency: 'EUR', seq: 7 }];
const faultsOf = (act: MoveAct, filled: Filled, of = rows): string[] => {
  const made = makeMove(act, filled, of);
  return made.ok ? [] : made.faults.map(({ field }) => field);
};

it('makes each move with what belongs to it and nothing else', () => {
  expect(makeMove('in', { bin: ' A1 ', qty: '2', unitCost: '3,25', reason: '' }, rows)).toEqual({ ok: true, move: { kind: 'in', bin: 'A1', qty: 2, unitCost: 3.25 } });
  expect(makeMove('out', { bin: 'A1', qty: '3', unitCost: '3' }, rows)).toEqual({ ok: true, move: { kind: 'out', bin: 'A1', qty: 3 } });
  expect(makeMove('transfer', { bin: 'A1', qty: '1', toBin: 'B2' }, rows)).toEqual({ ok: true, move: { kind: 'transfer', bin: 'A1', qty: 1, toBin: 'B2' } });
  expect(makeMove('count', { bin: 'A1', qty: '0', reason: 'seen' }, rows)).toEqual({ ok: true, move: { kind: 'count', bin: 'A1', qty: 0, reason: 'seen', knownSeq: 7 } });
  expect(makeMove('count', { bin: 'Z9', qty: '1', reason: 'found' }, rows)).toMatchObject({ move: { knownSeq: 0 } });
});

it.each<[MoveAct, Filled, string[]]>([
  ['out', { bin: 'A1', qty: '4' }, ['qty']], ['out', { bin: 'B9', qty: '1' }, ['qty']], ['out', { bin: 'A1', qty: '0' }, ['qty']], ['out', { bin: 'A1', qty: '1.5' }, ['qty']], ['out', { bin: '', qty: '1' }, ['bin']],
  ['transfer', { bin: 'A1', qty: '1', toBin: 'A1' }, ['toBin']], ['transfer', { bin: 'A1', qty: '1' }, ['toBin']], ['scrap', { bin: 'A1', qty: '1' }, ['reason']], ['count', { bin: 'A1', qty: '', reason: 'x' }, ['qty']],
  ['in', { bin: 'A1', qty: '1', unitCost: 'ten' }, ['unitCost']],
])('says at the field what is wrong with %s %j', (act, filled, fields) => {
  expect(faultsOf(act, filled)).toEqual(fields);
});

it('wants what the first units of a part cost, and takes the known cost for later ones', () => {
  expect(faultsOf('in', { bin: 'A1', qty: '1' }, [])).toEqual(['unitCost']);
  expect(faultsOf('in', { bin: 'A1', qty: '1' })).toEqual([]);
});
