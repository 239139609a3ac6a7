import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part, Wire } from '../../../catalog-schema/index.ts';
import type { PlanOutline } from '../rewire/index.ts';
import { PlanWork } from './plan-work.ts';

// Minutes of the table of settings: 3 a wire moved, 6 a new end, 10 a jumper, 2 a wire left off. Here a minute costs 2, and what is put on its own price.

const wire = (tag: string, leadsTo: Wire['leadsTo'], end?: Wire['end']): Wire => ({ tag, wasOn: tag, leadsTo, ...(end ? { end } : {}) });
const bench = (wires: Wire[]): BenchRecord => ({ system: { nominalV: 12 }, wires });
const PRICES: Record<string, number> = { 'ring lug': 5, receptacle: 1, 'receptacle with branch tab': 3, splice: 2, 'socket contact': 4, 'jumper lead': 7 };
const work = (wires: Wire[]) => new PlanWork(bench(wires), 2, (item) => PRICES[item]!);
const on = (tag: string, to: string, more: { moved?: boolean; newEnd?: boolean } = {}) => ({ tag, from: tag, to, moved: false, newEnd: false, ...more });
const plan = (wires: PlanOutline['wires'], more: Partial<PlanOutline> = {}): PlanOutline => ({ wires, leftOff: [], jumpers: [], bareTerminals: [], changes: 0, ...more });
const studs: Part['terminals'] = [{ id: 'B', form: 'stud', thread: 'M8x1.25' }, { id: 'M', form: 'stud', thread: 'M8x1.25' }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }];
const ring = (holeMm: number): Wire['end'] => ({ form: 'ring', holeMm });

describe('what a plan asks for', () => {
  it('is nothing where every wire stays with an end that goes on', () => {
    expect(work([wire('b', 'battery', ring(8.4))]).leastOf([plan([on('b', 'B')])], studs)).toEqual({ minutes: 0, price: 0 });
  });

  it('is a lug where the ring does not go on the thread, as well as the move', () => {
    expect(work([wire('b', 'battery', ring(6.4))]).leastOf([plan([on('b', 'B', { moved: true })])], studs)).toEqual({ minutes: 9, price: 5 + 18 });
    expect(work([wire('b', 'battery')]).leastOf([plan([on('b', 'B')])], studs)).toEqual({ minutes: 0, price: 0 });
    expect(work([wire('b', 'battery', ring(6.4))]).leastOf([plan([on('b', 'X')])], [...studs, { id: 'X', form: 'stud' }])).toEqual({ minutes: 0, price: 0 });
  });

  it('is a new end of the kind that the terminal takes, a jumper, a wire left off', () => {
    const shared = plan([on('s', 'S', { newEnd: true }), on('t', 'S', { newEnd: true }), on('g', 'case', { newEnd: true })], { jumpers: [{ from: 'S', to: 'M' }], leftOff: ['h'] });
    expect(work([wire('s', 'start-switch'), wire('t', 'tap'), wire('g', 'chassis'), wire('h', 'chassis')]).leastOf([shared], studs)).toEqual({ minutes: 30, price: 3 + 3 + 5 + 7 + 60 });
  });
});

describe('the least that any of the plans asks for', () => {
  const wires = [wire('b', 'battery', ring(6.4)), wire('s', 'start-switch')];

  it('is taken of minutes and of money each by itself', () => {
    const moved = plan([on('s', 'M', { moved: true })], { changes: 1 });
    const lugged = plan([on('b', 'B')], { changes: 1 });
    expect(work(wires).leastOf([lugged, moved], studs)).toEqual({ minutes: 3, price: 6 });
  });

  it('is not sought among plans whose changes alone take longer', () => {
    function* plans() {
      yield plan([on('s', 'S', { moved: true })], { changes: 1 });
      yield plan([on('s', 'M', { moved: true })], { changes: 2 });
      throw new Error('asked for more than can matter');
    }
    expect(work(wires).leastOf(plans(), studs)).toEqual({ minutes: 3, price: 6 });
  });

  it('is none where there is no plan', () => {
    expect(work(wires).leastOf([], studs)).toBeNull();
  });
});
