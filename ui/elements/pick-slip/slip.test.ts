import { expect, it } from 'vitest';
import { changeQty, putOnSlip, sellSlip } from './slip.ts';

const a = { partId: 'a', bin: 'A1', open: [] };

it('counts the same part from the same bin once, and takes a line off with its last unit', () => {
  const slip = putOnSlip(putOnSlip(putOnSlip([], a), a), { ...a, bin: 'B2' });
  expect(slip.map(({ bin, qty }) => [bin, qty])).toEqual([['A1', 2], ['B2', 1]]);
  expect(changeQty(changeQty(slip, 'a', 'A1', -1), 'a', 'B2', -1).map(({ bin, qty }) => [bin, qty])).toEqual([['A1', 1]]);
});

it('is sold as one', () => {
  expect(sellSlip([{ ...a, qty: 2 }, { ...a, bin: 'B2', qty: 1 }], 's', 'Kit')).toEqual([
    { kind: 'out', partId: 'a', bin: 'A1', qty: 2, reservationId: 's', reason: 'Kit' }, { kind: 'out', partId: 'a', bin: 'B2', qty: 1, reservationId: 's', reason: 'Kit' },
  ]);
});
