import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkBalance, solveNetwork, type NetworkElement } from '../../../api/engine/circuit/index.ts';
import { NETWORKS } from './networks.ts';
import { findNgspice, runNgspice, type Recorded } from './run-ngspice.ts';

// Source of the figures: ngspice, a general-purpose circuit simulator, version named in recorded.json; the diode there is the same
// piecewise linear element. The three cranking circuits were worked by hand as well.
const recorded = JSON.parse(readFileSync(new URL('./recorded.json', import.meta.url), 'utf8')) as Recorded;
const RELATIVE = 0.001;
/** What SPICE's hold resistors and leaks let through where nothing flows. */
const ABSOLUTE = 1e-6;

function expectNear(found: number, want: number, what: string): void {
  expect(Math.abs(found - want), `${what}: found ${found}, want ${want}`).toBeLessThanOrEqual(RELATIVE * Math.abs(want) + ABSOLUTE);
}

function endsOf(element: NetworkElement): readonly [string, string] {
  if (element.kind === 'source') return [element.minus, element.plus];
  return element.kind === 'diode' ? [element.from, element.to] : element.between;
}

describe('the circuit solver against ngspice', () => {
  it('is compared on thirty networks or more', () => {
    expect(NETWORKS.length).toBeGreaterThanOrEqual(30);
    expect(Object.keys(recorded.networks).sort()).toEqual(NETWORKS.map((network) => network.name).sort());
    expect(recorded.program).toMatch(/^ngspice-\d+/);
  });

  for (const network of NETWORKS) {
    it(`agrees to 0.1 % on: ${network.name}`, () => {
      const want = recorded.networks[network.name]!;
      const { volts, amps } = solveNetwork({ ground: '0', elements: network.elements });
      const wanted = (node: string): number => (node === '0' ? 0 : want.volts[node]!);
      network.elements.forEach((element, e) => {
        expectNear(amps[e]!, want.amps[e]!, `A through element ${e} (${element.kind})`);
        const [from, to] = endsOf(element);
        expectNear(volts.get(from)! - volts.get(to)!, wanted(from) - wanted(to), `V across element ${e} (${element.kind})`);
      });
      if (!network.floats) for (const [node, value] of Object.entries(want.volts)) expectNear(volts.get(node)!, value, `V at ${node}`);
    });

    it(`keeps Kirchhoff's laws and the balance of power on: ${network.name}`, () => {
      const whole = { ground: '0', elements: network.elements };
      const balance = checkBalance(whole, solveNetwork(whole));
      expect(balance.nodeA).toBeLessThan(1e-7);
      expect(balance.powerW).toBeLessThan(1e-6);
      expect(balance.elementV).toBeLessThan(1e-8);
    });
  }

  it('agrees with the hand values of the three cranking circuits', () => {
    const ampsOf = (name: string): readonly number[] => solveNetwork({ ground: '0', elements: NETWORKS.find((n) => n.name.startsWith(name))!.elements }).amps;
    expect(ampsOf('C1')[0]).toBeCloseTo(12.6 / 0.05792, 6);
    expect(ampsOf('C2')[3]).toBeCloseTo(3.6 / 0.03, 6);
    expect(ampsOf('C3')[6]).toBeCloseTo(2.069942, 5);
    expect(ampsOf('C3')[3]).toBeCloseTo(101.05528, 4);
  });

  const program = findNgspice();
  it.skipIf(program === undefined)('recorded values are what ngspice says today (skipped where it is not installed)', () => {
    const live = runNgspice(NETWORKS, program!);
    for (const network of NETWORKS) {
      const was = recorded.networks[network.name]!;
      const is = live.networks[network.name]!;
      was.amps.forEach((value, e) => expectNear(is.amps[e]!, value, `${network.name}: A through element ${e}`));
      for (const [node, value] of Object.entries(was.volts)) expectNear(is.volts[node]!, value, `${network.name}: V at ${node}`);
    }
  });
});
