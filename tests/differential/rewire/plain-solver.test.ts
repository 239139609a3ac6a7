import { describe, expect, it } from 'vitest';
import { solveNetwork } from './plain-solver.ts';

// The yardstick itself is held against sums done by hand and ngspice 39 (values made up for the test).

describe('the plain solver', () => {
  it('finds the bad ground joint\'s voltages as Millman\'s theorem and ngspice do', () => {
    // 12.40 V behind 15 mOhm; 57.92 mOhm with 5.0 V of back-EMF; 5.2432 Ohm of coil branch: post 10.853122 V, 101.05528 A, 2.069942 A
    const { volts, amps } = solveNetwork(2, [
      { from: 0, to: 1, ohm: 0.015, emf: -12.4 }, { from: 1, to: 0, ohm: 0.05792, emf: 5 }, { from: 1, to: 0, ohm: 5.2432, emf: 0 },
    ], []);
    expect(volts[1]).toBeCloseTo(10.853122, 6);
    expect(amps[1]).toBeCloseTo(101.05528, 4);
    expect(amps[2]).toBeCloseTo(2.069942, 6);
  });

  it('drives a diode with 0.7 V and 10 mOhm, and no current the other way', () => {
    // 12 V behind 10 mOhm: (12 - 0.7) / 0.02 = 565 A by hand
    const source = { from: 0, to: 1, ohm: 0.01, emf: -12 };
    expect(solveNetwork(2, [source], [{ from: 1, to: 0 }]).diodeAmps[0]).toBeCloseTo(565, 5);
    expect(solveNetwork(2, [source], [{ from: 0, to: 1 }]).diodeAmps[0]).toBe(0);
  });

  it('solves what floats and what is open: a coil with one end on nothing has no voltage across it', () => {
    const { volts } = solveNetwork(4, [{ from: 0, to: 1, ohm: 0.01, emf: -12 }, { from: 1, to: 2, ohm: 4.8, emf: 0 }], []);
    expect(volts[2]).toBeCloseTo(12, 6);
    expect(volts[3]).toBe(0);
  });

  it('keeps the current law at every net', () => {
    const branches = [
      { from: 0, to: 1, ohm: 0.01, emf: -12 }, { from: 1, to: 2, ohm: 1e-6, emf: 0 }, { from: 2, to: 3, ohm: 0.4, emf: 0 },
      { from: 1, to: 3, ohm: 0.0005, emf: 0 }, { from: 3, to: 0, ohm: 0.05, emf: 0 }, { from: 2, to: 0, ohm: 1.2, emf: 0 },
    ];
    const { volts, amps } = solveNetwork(4, branches, []);
    for (let net = 1; net < 4; net++) {
      const sum = branches.reduce((total, branch, index) => total + (branch.from === net ? amps[index]! : 0) - (branch.to === net ? amps[index]! : 0), 0);
      expect(sum).toBeCloseTo(0, 6);
    }
    // ngspice 39 on the same network: 9.94731590 V at net 1, 8.53531783 A through the start switch
    expect(volts[1]).toBeCloseTo(9.9473159, 6);
    expect(amps[1]).toBeCloseTo(8.5353178, 5);
  });
});
