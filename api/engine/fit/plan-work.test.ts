import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part, Wire } from '../../../catalog-schema/index.ts';
import { createRewirer } from '../rewire/index.ts';
import { PlanWork } from './plan-work.ts';

// Minutes of the table of settings: 3 a wire moved, 6 a new end, 10 a jumper, 2 a wire left off. Here a minute costs 2, and what is put on its own price.

const PRICES: Record<string, number> = { 'ring lug': 5, receptacle: 1, 'receptacle with branch tab': 3, splice: 2, 'socket contact': 4, 'jumper lead': 7 };
const ring = (holeMm: number): Wire['end'] => ({ form: 'ring', holeMm });
const tab: Wire['end'] = { form: 'receptacle', tabWidthMm: 6.3 };
const bench = (more: Partial<Record<'b' | 'm' | 's' | 'g', Partial<Wire>>> = {}): BenchRecord => ({
  system: { nominalV: 12, interlocks: 'in-feed' },
  wires: [
    { tag: 'b', wasOn: 'B', leadsTo: 'battery', end: ring(8.4), ...more.b }, { tag: 'm', wasOn: 'M', leadsTo: 'starter', end: ring(8.4), ...more.m },
    { tag: 's', wasOn: 'S', leadsTo: 'start-switch', end: tab, ...more.s }, { tag: 'g', wasOn: 'I', leadsTo: 'chassis', end: tab, ...more.g },
  ],
});
const relay: Part = {
  id: 'p', partClass: 'start-relay', title: '',
  terminals: [
    { id: 'B', form: 'stud', thread: 'M8x1.25' }, { id: 'M', form: 'stud', thread: 'M8x1.25' }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }, { id: 'I', form: 'tab', tabWidthMm: 6.3 },
  ],
  circuit: [{ kind: 'coil', id: 'c', between: ['S', 'I'], nominalV: 12, ohmAt20C: 4 }, { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'] }],
};
const leastOf = (record: BenchRecord, part: Part = relay) => new PlanWork(record, 2, (item) => PRICES[item]!).leastOf(createRewirer(record), part, undefined);

describe('the least that any plan asks for', () => {
  it('is nothing where every wire may stay', () => {
    expect(leastOf(bench())).toEqual({ minutes: 0, price: 0 });
  });

  it('is the wires that have no place of their own', () => {
    expect(leastOf(bench({ s: { wasOn: '50' } }))).toEqual({ minutes: 3, price: 6 });
  });

  it('is a lug where a ring does not go on the thread, and none where the thread is not given', () => {
    expect(leastOf(bench({ m: { end: ring(6.4) } }))).toEqual({ minutes: 6, price: 5 + 12 });
    const unsaid = { ...relay, terminals: relay.terminals.map(({ id, form, tabWidthMm }) => ({ id, form, ...(tabWidthMm === undefined ? {} : { tabWidthMm }) })) };
    expect(leastOf(bench({ m: { end: ring(6.4) } }), unsaid)).toEqual({ minutes: 0, price: 0 });
  });

  it('is a new end, counted at the cheapest, where the form of the end is another', () => {
    expect(leastOf(bench({ s: { end: ring(5.3) } }))).toEqual({ minutes: 6, price: 1 + 12 });
  });

  it('is that of a jumper where nothing else leads the coil back', () => {
    const record = bench();
    expect(leastOf({ ...record, wires: record.wires!.filter(({ tag }) => tag !== 'g') })).toEqual({ minutes: 10, price: 7 + 20 });
  });

  it('is none where every part of the form is refused', () => {
    expect(leastOf(bench(), { ...relay, circuit: relay.circuit.slice(0, 1) })).toBeNull();
  });
});
