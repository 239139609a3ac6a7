import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { solveNetwork } from '../../../api/engine/circuit/index.ts';
import { trace } from '../../../api/engine/index.ts';
import type { BenchRecord, TraceReadings } from '../../../catalog-schema/index.ts';
import { readMeter, TRACE_NETWORKS, type Place, type TraceNetwork } from './machines.ts';

// Source of the figures: ngspice, a general-purpose circuit simulator, version named in recorded.json. Whole machines with a meter at
// one wire's free end: what the tracing helper makes of each reading, and of all of them, must be the truth the machine was wired by.
const recorded = JSON.parse(readFileSync(new URL('./recorded.json', import.meta.url), 'utf8')) as { program: string; amps: Record<string, number> };

const recordOf = (readings: TraceReadings): BenchRecord => ({ system: { nominalV: 12 }, wires: [{ tag: 'W1', wasOn: 'X', traced: { by: 'meter', readings } }] });
const round = (reading: number | 'open'): number | 'open' => (reading === 'open' ? reading : Math.round(reading * 1e4) / 1e4);
const grouped = new Map<string, TraceNetwork[]>();
for (const network of TRACE_NETWORKS) {
  const name = `${network.machine}: wire to ${network.place}`;
  grouped.set(name, [...(grouped.get(name) ?? []), network]);
}
const wires = [...grouped];

describe('tracing by readings of machines that ngspice solved', () => {
  it('is held against every wire of four machines', () => {
    expect(recorded.program).toMatch(/^ngspice-\d+/);
    expect(Object.keys(recorded.amps).toSorted()).toEqual(TRACE_NETWORKS.map(({ name }) => name).toSorted());
    expect(new Set(TRACE_NETWORKS.map(({ place }) => place)).size).toBe(7);
  });

  it.each(wires)('%s', (_name, networks) => {
    const truth: Place = networks[0]!.place;
    const readings: TraceReadings = {};
    for (const { name, measure, elements } of networks) {
      const amps = recorded.amps[name]!;
      // the product's own solver reads the same meter
      const own = solveNetwork({ ground: '0', elements }).amps.at(-1)!;
      const [seen, solved] = [readMeter(measure, Math.abs(amps)), readMeter(measure, Math.abs(own))];
      if (seen === 'open' || solved === 'open') expect(solved, name).toBe(seen);
      else expect(Math.abs(solved - seen), name).toBeLessThan(0.001 * Math.abs(seen) + 0.02);
      const one = trace(recordOf({ [measure]: round(seen) })).wires[0]!;
      expect(one.conflicts, name).toEqual([]);
      expect(one.remaining, `${name} reads ${round(seen)}`).toContain(truth);
      readings[measure] = round(seen) as never;
    }
    const all = trace(recordOf(readings)).wires[0]!;
    expect({ leadsTo: all.leadsTo, conflicts: all.conflicts, next: all.measureNext }).toEqual({ leadsTo: truth, conflicts: [], next: [] });
  });

  it.each(wires)('by the readings it asks for, one after the other, and four at most: %s', (_name, networks) => {
    const readings: TraceReadings = {};
    for (let asked = 0; asked < 5; asked += 1) {
      const [answer] = trace(recordOf(readings)).wires;
      if (answer!.leadsTo !== null) {
        expect(answer!.leadsTo).toBe(networks[0]!.place);
        expect(asked).toBeLessThanOrEqual(4);
        return;
      }
      const { measure } = answer!.measureNext[0]!;
      readings[measure] = round(readMeter(measure, Math.abs(recorded.amps[networks.find((network) => network.measure === measure)!.name]!))) as never;
    }
    expect.fail(`not traced by five readings: ${JSON.stringify(readings)}`);
  });
});
