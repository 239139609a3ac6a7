import { describe, expect, it } from 'vitest';
import { checkBalance, solveNetwork, type Network, type NetworkElement } from './index.ts';

const battery = (ohm = 0.01, emfV = 12): NetworkElement => ({ kind: 'source', minus: '0', plus: 'b', emfV, ohm });

describe('solving a network', () => {
  it('divides a voltage by hand', () => {
    const { volts, amps } = solveNetwork({ ground: '0', elements: [battery(1), { kind: 'resistor', between: ['b', '0'], ohm: 5 }] });
    expect(volts.get('b')).toBeCloseTo(10, 12);
    expect(amps).toEqual([expect.closeTo(2, 12), expect.closeTo(2, 12)]);
  });

  it('agrees with Millman\'s theorem for two branches at one post', () => {
    // Millman's theorem, textbook network theory: V = sum(E/R) / sum(1/R)
    const { volts } = solveNetwork({ ground: '0', elements: [
      battery(0.015, 12.4), { kind: 'motor', between: ['b', '0'], ohm: 0.05792, backEmfV: 5 }, { kind: 'resistor', between: ['b', '0'], ohm: 5.2432 },
    ] });
    const hand = (12.4 / 0.015 + 5 / 0.05792) / (1 / 0.015 + 1 / 0.05792 + 1 / 5.2432);
    expect(volts.get('b')).toBeCloseTo(hand, 10);
  });

  it('knows what each wire of a chain carries, though none has resistance', () => {
    const { amps } = solveNetwork({ ground: '0', elements: [
      battery(1), { kind: 'wire', between: ['b', 'p'] }, { kind: 'wire', between: ['p', 'q'] },
      { kind: 'resistor', between: ['p', '0'], ohm: 4 }, { kind: 'resistor', between: ['q', '0'], ohm: 4 },
    ] });
    expect(amps[1]).toBeCloseTo(4, 12);
    expect(amps[2]).toBeCloseTo(2, 12);
  });

  it('lets two wires side by side share', () => {
    const { amps } = solveNetwork({ ground: '0', elements: [
      battery(1), { kind: 'resistor', between: ['b', 'r'], ohm: 5 }, { kind: 'wire', between: ['r', '0'] }, { kind: 'wire', between: ['0', 'r'] },
    ] });
    expect(amps[2]).toBeCloseTo(1, 12);
    expect(amps[3]).toBeCloseTo(-1, 12);
  });

  it('leaves a part that hangs in the air at 0 V without current', () => {
    const { volts, amps } = solveNetwork({ ground: '0', elements: [
      battery(), { kind: 'resistor', between: ['x', 'y'], ohm: 4 }, { kind: 'contact', between: ['b', 'x'], closed: false },
      { kind: 'resistor', between: ['b', 'dead-end'], ohm: 3 },
    ] });
    expect([volts.get('x'), volts.get('y')]).toEqual([0, 0]);
    expect(amps[1]).toBe(0);
    expect(volts.get('dead-end')).toBeCloseTo(12, 9);
  });

  it('solves a source inside a part that hangs in the air', () => {
    const { volts, amps } = solveNetwork({ ground: '0', elements: [
      { kind: 'source', minus: 'm', plus: 'p', emfV: 6, ohm: 1 }, { kind: 'resistor', between: ['p', 'm'], ohm: 2 },
    ] });
    expect(volts.get('p')! - volts.get('m')!).toBeCloseTo(4, 12);
    expect(amps[0]).toBeCloseTo(2, 12);
  });

  it('answers an empty network', () => {
    expect(solveNetwork({ ground: '0', elements: [] }).amps).toEqual([]);
  });

  it('lets a diode pass forward at 0.7 V and its slope, and block backward', () => {
    const forward = solveNetwork({ ground: '0', elements: [battery(1), { kind: 'diode', from: 'b', to: '0' }] });
    expect(forward.amps[1]).toBeCloseTo((12 - 0.7) / 1.01, 10);
    const backward = solveNetwork({ ground: '0', elements: [battery(1), { kind: 'diode', from: '0', to: 'b' }] });
    expect(backward.amps[1]).toBe(0);
    expect(backward.conducts[1]).toBe(false);
  });

  it('leaves a diode blocking below 0.7 V', () => {
    const { amps } = solveNetwork({ ground: '0', elements: [battery(1, 0.69), { kind: 'diode', from: 'b', to: '0' }] });
    expect(amps[1]).toBe(0);
  });

  it('rectifies over a bridge of four diodes either way round', () => {
    for (const emfV of [12, -12]) {
      const { amps } = solveNetwork({ ground: '0', elements: [
        { kind: 'source', minus: '0', plus: 'a', emfV, ohm: 0.01 },
        { kind: 'diode', from: 'a', to: 'p' }, { kind: 'diode', from: '0', to: 'p' }, { kind: 'diode', from: 'm', to: 'a' }, { kind: 'diode', from: 'm', to: '0' },
        { kind: 'resistor', between: ['p', 'm'], ohm: 10 },
      ] });
      expect(amps[5]).toBeCloseTo((12 - 1.4) / 10.03, 8);
    }
  });

  it('refuses a source without resistance and a value that is no number', () => {
    expect(() => solveNetwork({ ground: '0', elements: [battery(0)] })).toThrow(RangeError);
    expect(() => solveNetwork({ ground: '0', elements: [{ kind: 'resistor', between: ['a', 'b'], ohm: Number.NaN }] })).toThrow(/element 0/);
  });

  it('gives the same answer whatever the nodes are called and in whatever order the elements stand', () => {
    const elements: NetworkElement[] = [
      battery(), { kind: 'wire', between: ['b', 'c'] }, { kind: 'resistor', between: ['c', 'd'], ohm: 3 }, { kind: 'diode', from: 'd', to: '0' },
      { kind: 'resistor', between: ['d', 'e'], ohm: 7 }, { kind: 'motor', between: ['e', '0'], ohm: 0.05, backEmfV: 2 },
    ];
    const plain = solveNetwork({ ground: '0', elements });
    const rename = (node: string): string => (node === '0' ? 'gnd' : `n-${node}`);
    const renamed = solveNetwork({ ground: 'gnd', elements: elements.map((e): NetworkElement => {
      if (e.kind === 'source') return { ...e, minus: rename(e.minus), plus: rename(e.plus) };
      if (e.kind === 'diode') return { ...e, from: rename(e.from), to: rename(e.to) };
      return { ...e, between: [rename(e.between[0]), rename(e.between[1])] };
    }).toReversed() });
    renamed.amps.toReversed().forEach((a, i) => expect(a).toBeCloseTo(plain.amps[i]!, 9));
  });

  it('scales with its sources and its resistances', () => {
    const at = (scale: number): Network => ({ ground: '0', elements: [
      battery(0.01 * scale, 12 * scale), { kind: 'resistor', between: ['b', 'c'], ohm: 3 * scale }, { kind: 'resistor', between: ['c', '0'], ohm: 5 * scale },
    ] });
    const plain = solveNetwork(at(1));
    for (const scale of [1e-9, 1e9]) expect(solveNetwork(at(scale)).amps[1]! / plain.amps[1]!).toBeCloseTo(1, 12);
  });
});

describe('the balance checker', () => {
  const network: Network = { ground: '0', elements: [
    battery(), { kind: 'wire', between: ['b', 'c'] }, { kind: 'diode', from: 'c', to: 'd' }, { kind: 'resistor', between: ['d', '0'], ohm: 4 },
    { kind: 'contact', between: ['c', 's'], closed: true }, { kind: 'motor', between: ['s', '0'], ohm: 0.05, backEmfV: 6 },
  ] };

  it('passes a solved network', () => {
    const balance = checkBalance(network, solveNetwork(network));
    expect(balance.nodeA).toBeLessThan(1e-8);
    expect(balance.powerW).toBeLessThan(1e-7);
    expect(balance.elementV).toBeLessThan(1e-9);
  });

  it('sees a current that is wrong by a hundredth', () => {
    const solution = solveNetwork(network);
    const amps = solution.amps.map((a, i) => (i === 3 ? a * 1.01 : a));
    const balance = checkBalance(network, { ...solution, amps });
    expect(balance.nodeA).toBeGreaterThan(0.01);
    expect(balance.elementV).toBeGreaterThan(0.01);
    expect(balance.powerW).toBeGreaterThan(0.1);
  });

  it('sees a diode that is said to block though it should conduct', () => {
    const solution = solveNetwork(network);
    const wrong = { ...solution, conducts: solution.conducts.map((c, i) => (i === 2 ? false : c)) };
    expect(checkBalance(network, wrong).elementV).toBeGreaterThan(1);
  });
});
