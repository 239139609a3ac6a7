import { expect, it } from 'vitest';
import { shareTieCurrents } from './tie-currents.ts';

it('gives a tree of ties exactly what lies behind each', () => {
  expect([...shareTieCurrents([0, 1, 1], [1, 2, 3], 3, Float64Array.of(-7, 1, 2, 4))]).toEqual([7, 2, 4]);
});

it('shares a loop as equal resistances, with a branch hanging on it', () => {
  // 0-1, 1-2, 2-0 a triangle; 3 hangs on 2 and draws 3 A from 0: two thirds by the short way
  const amps = shareTieCurrents([0, 1, 2, 2], [1, 2, 0, 3], 4, Float64Array.of(-3, 0, 0, 3));
  [1, 1, -2, 3].forEach((want, i) => expect(amps[i]).toBeCloseTo(want, 12));
});

it('carries nothing through a tie from a node to itself', () => {
  expect([...shareTieCurrents([0], [0], 1, Float64Array.of(0))]).toEqual([0]);
});
