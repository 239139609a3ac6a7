import { describe, expect, it } from 'vitest';
import { readByMeter, readBySupply, type Network } from './network.ts';
import { drawPart, FORMS, groupOf, listProbes, takeReading, type Form, type Instrument, type SimulatedPart } from './part-world.ts';
import { Draws } from './random.ts';

// Sums worked by hand from Ohm's and Kirchhoff's laws.

describe('the plain network', () => {
  const bridge: Network = {
    links: [{ a: 'p', b: 'x', ohm: 1 }, { a: 'x', b: 'n', ohm: 2 }, { a: 'p', b: 'y', ohm: 2 }, { a: 'y', b: 'n', ohm: 1 }, { a: 'x', b: 'y', ohm: 3 }],
    oneWays: [],
  };
  const coil: Network = { links: [{ a: 'p', b: 'n', ohm: 4 }, { a: 'b', b: 'm', ohm: 0.0005 }], oneWays: [{ from: 'n', to: 'p', volts: 0.7, ohm: 0.01 }] };

  it('sums an unbalanced bridge', () => {
    // Delta p-x-y (1, 2, 3) to star: 1/3, 1/2, 1; then 1/3 + (2.5 || 2) = 1.444... Ohm
    expect(readByMeter(bridge, 'p', 'n')).toBeCloseTo(1 / 3 + 2.5 * 2 / 4.5, 6);
  });

  it('shows the coil to a meter both ways round, and a diode only to a supply', () => {
    expect(readByMeter(coil, 'p', 'n')).toBeCloseTo(4, 6);
    expect(readByMeter(coil, 'n', 'p')).toBeCloseTo(4, 6);
    expect(readBySupply(coil, 'p', 'n', 12, 5)).toBeCloseTo(4, 6);
    // 5 A: V / 4 + (V - 0.7) / 0.01 = 5, V = 75 / 100.25
    expect(readBySupply(coil, 'n', 'p', 12, 5)).toBeCloseTo(75 / 100.25 / 5, 6);
  });

  it('calls open what nothing joins, with other islands floating', () => {
    expect(readByMeter(coil, 'p', 'b')).toBe(Infinity);
    expect(readBySupply(coil, 'b', 'n', 12, 5)).toBe(Infinity);
    expect(readBySupply(coil, 'b', 'm', 12, 5)).toBeCloseTo(0.0005, 6);
  });
});

describe('simulated parts', () => {
  it('of two groups never read alike everywhere, so that every group can be told', () => {
    // Which readings a part gives, as open, joined or wound, in every order of its terminals.
    const kindsOf = (part: SimulatedPart) => {
      const read = (by: Instrument, pulledIn: boolean, plus: string, minus: string): string => {
        const network = pulledIn ? part.heldIn : part.rest;
        const ohm = by === 'meter' ? readByMeter(network, plus, minus) : readBySupply(network, plus, minus, part.supplyV, part.limitA);
        const meter = readByMeter(network, plus, minus);
        return ohm === Infinity ? 'open' : by === 'supply' && ohm < 0.7 * meter ? 'turned on' : 'joined';
      };
      return listProbes(part).map(({ by, pulledIn, plus, minus }) => read(by, pulledIn, plus, minus)).toSorted().join();
    };
    const seen = new Map<string, string>();
    for (const form of FORMS) {
      const kinds = kindsOf(drawPart(new Draws(7), form));
      expect(seen.get(kinds) ?? groupOf(form), form).toBe(groupOf(form));
      seen.set(kinds, groupOf(form));
    }
    expect(new Set(seen.values()).size).toBe(7);
  });

  it('read within what the instrument claims about as often as two sigma promise, or a little less', () => {
    let [within, all] = [0, 0];
    for (let i = 0; i < 300; i++) {
      const draws = new Draws(i);
      const part = drawPart(draws, draws.pick<Form>(['isolated', 'case-return']));
      for (const probe of listProbes(part).filter(({ by }) => by === 'supply')) {
        const { ohm } = takeReading(part, probe, draws);
        if (typeof ohm !== 'object') continue;
        all++;
        if (Math.abs(ohm.value - readBySupply(probe.pulledIn ? part.heldIn : part.rest, probe.plus, probe.minus, part.supplyV, part.limitA)) <= ohm.plusMinus) within++;
      }
    }
    expect(within / all).toBeGreaterThan(0.85);
    expect(within / all).toBeLessThan(0.985);
  });
});
