import { describe, expect, it } from 'vitest';
import { NodalSolver } from './nodal-solver.ts';

describe('a solver whose branches are set anew', () => {
  it('solves as one that was built with these values', () => {
    const build = (ohms: readonly number[], volts: number): NodalSolver => {
      const solver = new NodalSolver();
      solver.begin(3);
      solver.addBranch(0, 1, ohms[0]!, volts);
      solver.addBranch(1, 2, ohms[1]!);
      solver.addBranch(2, 0, ohms[2]!);
      return solver;
    };
    const again = build([1, 1, 1], 6);
    again.solve();
    expect(again.voltsAt(1)).toBeCloseTo(4, 12);
    again.setBranch(0, 0.5, 12);
    again.setBranch(2, 4.5);
    again.solve();
    const fresh = build([0.5, 1, 4.5], 12);
    fresh.solve();
    expect([again.voltsAt(1), again.voltsAt(2), again.ampsOf(1)]).toEqual([fresh.voltsAt(1), fresh.voltsAt(2), fresh.ampsOf(1)]);
    // Ohm's law by hand: 12 V over 6 Ohm.
    expect(again.ampsOf(1)).toBeCloseTo(2, 12);
  });
});
