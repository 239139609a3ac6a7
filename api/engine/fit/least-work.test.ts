import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part, Wire } from '../../../catalog-schema/index.ts';
import { LeastEnds, leastJumpers } from './least-work.ts';

const wire = (tag: string, leadsTo: Wire['leadsTo'], end?: Wire['end']): Wire => ({ tag, wasOn: tag, leadsTo, ...(end ? { end } : {}) });
const bench = (wires: Wire[], more: Partial<BenchRecord> = {}): BenchRecord => ({ system: { nominalV: 12 }, wires, ...more });
const endsOf = (wires: Wire[], terminals: Part['terminals']) => new LeastEnds(bench(wires), (items) => items.at(-1)!).of(terminals);
const ring = (holeMm: number): Wire['end'] => ({ form: 'ring', holeMm });
const studs: Part['terminals'] = [{ id: 'B', form: 'stud', thread: 'M8x1.25' }, { id: 'M', form: 'stud', thread: 'M8x1.25' }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }];

describe('the ends that any wiring needs', () => {
  it('are none where every wire finds a terminal that takes its end', () => {
    expect(endsOf([wire('b', 'battery', ring(8.4)), wire('s', 'start-switch', { form: 'receptacle', tabWidthMm: 6.3 })], studs)).toEqual({ minutes: 0, kit: [] });
  });

  it('are counted for rings too small or too wide for every thread, and for tabs of another width', () => {
    const wires = [wire('b', 'battery', ring(6.4)), wire('m', 'starter', ring(10.5)), wire('s', 'start-switch', { form: 'receptacle', tabWidthMm: 4.8 })];
    expect(endsOf(wires, studs)).toEqual({ minutes: 18, kit: [{ item: 'socket contact', qty: 3, detail: '' }] });
  });

  it('are not counted where something is not known, nor for a wire to chassis: it may go to the case or be left off', () => {
    expect(endsOf([wire('b', 'battery'), wire('g', 'chassis', ring(6.4)), wire('u', 'unknown', ring(6.4))], studs).minutes).toBe(0);
    expect(endsOf([wire('b', 'battery', ring(6.4))], [...studs, { id: 'X', form: 'stud' }]).minutes).toBe(0);
    expect(endsOf([wire('s', 'start-switch', { form: 'receptacle', tabWidthMm: 4.8 })], [{ id: 'S', form: 'tab' }]).minutes).toBe(0);
  });
});

describe('a jumper that any wiring needs', () => {
  const part = (between: [string, string], more: Partial<Part> = {}): Part => ({
    id: 'p', partClass: 'start-relay', title: '', terminals: [...studs, { id: 'I', form: 'tab' }],
    circuit: [{ kind: 'coil', id: 'c', between, nominalV: 12 }, { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'] }], ...more,
  });
  const wires = [wire('b', 'battery'), wire('m', 'starter'), wire('s', 'start-switch')];

  it('leads the current of a coil back that has nothing to come back by', () => {
    expect(leastJumpers(bench(wires), part(['S', 'I']))).toMatchObject({ minutes: 10, kit: [{ item: 'jumper lead', qty: 1 }] });
    expect(leastJumpers(bench(wires, { mounting: { holes: [], panelGrounded: false } }), part(['S', 'case']))).toMatchObject({ minutes: 10 });
  });

  it('is not counted with a return wire, a case that may be grounded, a coil on the contact, or more in the circuit', () => {
    expect(leastJumpers(bench([...wires, wire('r', 'chassis')]), part(['S', 'I'])).minutes).toBe(0);
    expect(leastJumpers(bench(wires), part(['S', 'case'])).minutes).toBe(0);
    expect(leastJumpers(bench(wires), part(['S', 'M'])).minutes).toBe(0);
    const twoCoils = part(['S', 'I']);
    expect(leastJumpers(bench(wires), { ...twoCoils, circuit: [...twoCoils.circuit, { kind: 'coil', id: 'd', between: ['S', 'M'], nominalV: 12 }] }).minutes).toBe(0);
  });
});
