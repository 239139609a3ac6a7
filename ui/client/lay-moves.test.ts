import { describe, expect, it } from 'vitest';
import type { StockMoveRequest, StockRow } from '../../catalog-schema/index.ts';
import type { WaitingItem } from './device.ts';
import { layMoves, layWaitingMoves } from './lay-moves.ts';

const row = (more: Partial<StockRow> = {}): StockRow => ({ partId: 'p', bin: 'A1', onHand: 4, reserved: 1, free: 3, unitCost: 10, currency: 'EUR', seq: 3, ...more });
const move = (kind: StockMoveRequest['kind'], qty: number, more: Partial<StockMoveRequest> = {}): StockMoveRequest => (
  { id: '0b0c6a52-3d1e-4c57-9a41-6f2f0f8f1a01', kind, partId: 'p', bin: 'A1', qty, at: '2026-11-25T10:00:00Z', ...more });
const after = (...moves: StockMoveRequest[]) => layMoves([row()], moves).map(({ bin, onHand, reserved, free, below }) => [bin, onHand, reserved, free, ...(below ? ['below'] : [])]);

describe('the shelf with what waits on this device', () => {
  it('shows each kind of move as it will be booked', () => {
    expect(after(move('in', 2))).toEqual([['A1', 6, 1, 5]]);
    expect(after(move('return', 1), move('out', 2), move('scrap', 1))).toEqual([['A1', 2, 1, 1]]);
    expect(after(move('reserve', 2), move('release', 1))).toEqual([['A1', 4, 2, 2]]);
    expect(after(move('transfer', 3, { toBin: 'B9' }))).toEqual([['A1', 1, 1, 0], ['B9', 3, 0, 3]]);
    expect(after(move('count', 0))).toEqual([['A1', 0, 1, -1, 'below']]);
  });

  it('keeps the place in the ledger that the server\'s row had, and gives a new bin none', () => {
    expect(layMoves([row()], [move('out', 1), move('count', 1, { bin: 'Z1' })]).map(({ seq, unitCost }) => [seq, unitCost])).toEqual([[3, 10], [0, 10]]);
  });

  it('leaves out what the server said no to', () => {
    const item = (more: Partial<WaitingItem>): WaitingItem => ({ key: 'k', what: 'moves', jobId: undefined, count: 1, since: '', errand: { kind: 'moves', body: { moves: [move('out', 1)] } }, ...more });
    expect(layWaitingMoves([row()], [item({}), item({ answer: { kind: 'taken', words: '', at: '' } })])[0]!.onHand).toBe(3);
    expect(layWaitingMoves([row()], [item({ answer: { kind: 'failed', words: '', at: '' } })])[0]!.onHand).toBe(3);
  });
});
