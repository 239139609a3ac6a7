import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readInput, traceAnswer, type BenchRecord, type LeadsTo, type TraceReadings } from '../../../catalog-schema/index.ts';
import { PLACES, PREDICTIONS } from './predictions.ts';
import { trace } from './trace.ts';

type System = Partial<BenchRecord['system']>;
const recordOf = (readings: TraceReadings, system: System = {}, leadsTo?: LeadsTo): BenchRecord => ({
  system: { nominalV: 12, ...system }, wires: [{ tag: 'W3', wasOn: 'S', ...(leadsTo === undefined ? {} : { leadsTo }), traced: { readings } }],
});
const ask = (readings: TraceReadings, system: System = {}, leadsTo?: LeadsTo) => trace(recordOf(readings, system, leadsTo)).wires[0]!;

describe('a wire nobody has traced', () => {
  it('can lead anywhere, and the first reading asked for is one with the battery off that halves what remains', () => {
    const answer = trace({ system: { nominalV: 12 }, wires: [{ tag: 'W3', wasOn: 'S' }] });
    expect(readInput(traceAnswer, answer)).toMatchObject({ ok: true });
    const [wire] = answer.wires;
    expect([wire!.remaining.length, wire!.leadsTo]).toEqual([7, null]);
    const [first] = wire!.measureNext;
    expect(first!.measure).toBe('ohmChassisMade');
    expect(first!.separates).toContainEqual({ outcome: 'joined', leaves: ['starter', 'chassis', 'interlocked-return', 'cranking-feed'] });
    expect(first!.cautions[0]).toMatch(/both clamps off the battery, minus first/);
    expect(wire!.measureNext.every(({ worth }) => worth > 0)).toBe(true);
  });

  it('has its START reading behind all others, with the starter\'s cable off and the machine secured', () => {
    const { measureNext } = ask({ voltsOff: 0 });
    const start = measureNext.find(({ measure }) => measure === 'voltsStart')!;
    expect(measureNext.findIndex(({ measure }) => measure === 'ohmChassisMade')).toBeLessThan(measureNext.indexOf(start));
    expect(start.what).toContain('while somebody holds START');
    expect(start.cautions.join(' ')).toMatch(/cable off the starter's own stud.*wheels chocked.*fuse of the start circuit/s);
  });

  it('names the machine\'s interlocks in the reading that needs them', () => {
    expect(ask({}, { interlockList: [{ name: 'seat', acts: 'return' }, { name: 'brake', acts: 'feed' }] }).measureNext[0]!.what).toContain('every interlock made (seat, brake)');
  });

  it('has no interlocked return on a machine whose interlocks act elsewhere', () => {
    expect(ask({}, { interlocks: 'in-feed' }).remaining).not.toContain('interlocked-return');
    expect(ask({ ohmChassisMade: 0.1, voltsOff: 0, voltsRun: 0, ohmStarterCable: 'open' }, { interlocks: 'none' }).leadsTo).toBe('chassis');
    expect(ask({ ohmChassisMade: 0.1, voltsOff: 0, voltsRun: 0, ohmStarterCable: 'open' }).remaining).toEqual(['chassis', 'interlocked-return']);
  });
});

describe('readings of a wire', () => {
  it.each<[LeadsTo, TraceReadings]>([
    ['battery', { voltsOff: 12.6 }],
    ['starter', { ohmStarterCable: 0.1 }],
    ['start-switch', { voltsRun: 0, voltsStart: 12.1 }],
    ['chassis', { ohmChassisMade: 0.2, ohmChassisOpen: 0.2, ohmStarterCable: 'open', voltsRun: 0 }],
    ['interlocked-return', { ohmChassisMade: 0.4, ohmChassisOpen: 'open', voltsRun: 0 }],
    ['cranking-feed', { voltsOff: 0, voltsRun: 6.1 , ohmChassisOpen: 1.2 }],
    ['tap', { ohmChassisMade: 'open', ohmBatteryPlus: 'open', voltsRun: 0, voltsStart: 0 }],
  ])('tell that it leads to %s', (place, readings) => {
    expect(ask(readings)).toMatchObject({ leadsTo: place, remaining: [place], conflicts: [], measureNext: [] });
  });

  it('of a take-off, which nothing but the lack of all else shows, come with the caution that a broken wire reads the same', () => {
    expect(ask({ ohmChassisMade: 'open', ohmBatteryPlus: 'open', voltsRun: 0, voltsStart: 0 }).cautions).toEqual([expect.stringMatching(/broken inside.*interlock open.*before it goes on the battery stud/)]);
    expect(ask({ voltsOff: 12.6 }).cautions).toEqual([]);
  });

  it('with part of their interval on either side of a limit exclude neither', () => {
    // The limit is 2 Ohm; a bare number has the ohmmeter's half-width of 0.2 Ohm.
    expect(ask({ ohmChassisMade: 1.7 }).remaining).not.toContain('battery');
    expect(ask({ ohmChassisMade: 1.9 }).remaining).toContain('battery');
    expect(ask({ ohmChassisMade: { value: 1.9, plusMinus: 0.05 } }).remaining).not.toContain('battery');
  });

  it('scale with the machine\'s voltage', () => {
    expect(ask({ voltsOff: 12.6 }, { nominalV: 24 }).conflicts).toHaveLength(1);
    expect(ask({ voltsOff: 25.2 }, { nominalV: 24 }).leadsTo).toBe('battery');
  });

  it('with the probes exchanged mean the same', () => {
    expect(ask({ voltsOff: -12.6 }).leadsTo).toBe('battery');
  });

  it('beyond what the machine can give are told as such', () => {
    expect(ask({ voltsOff: 48 }).conflicts).toEqual([{ paths: ['wires[0].traced.readings.voltsOff'], why: expect.stringMatching(/^with the key out 48 V: more than a machine of this voltage gives/) }]);
  });

  it('that contradict one another are named as the least set that does, and no place is given', () => {
    const wire = ask({ voltsOff: 12.5, ohmChassisMade: 0.1, ohmStarterCable: 'open' });
    expect([wire.remaining, wire.leadsTo, wire.measureNext]).toEqual([[], null, []]);
    expect(wire.conflicts.map(({ paths }) => paths)).toEqual([['wires[0].traced.readings.ohmChassisMade', 'wires[0].traced.readings.voltsOff']]);
    expect(wire.conflicts[0]!.why).toMatch(/to the chassis with the interlocks made 0\.1 Ohm \(nearly no ohms\) and with the key out 12\.5 V \(the battery's volts\): no one wire reads so/);
  });

  it('that contradict what is written down are told against it', () => {
    const wire = ask({ voltsOff: 12.5 }, {}, 'chassis');
    expect([wire.leadsTo, wire.conflicts[0]!.paths]).toEqual(['battery', ['wires[0].leadsTo', 'wires[0].traced.readings.voltsOff']]);
    expect(wire.conflicts[0]!.why).toBe('written down as leading to the chassis, but with the key out 12.5 V (the battery\'s volts): it leads to the battery');
  });

  it('list the limits and half-widths they were judged by', () => {
    const { assumptions } = trace(recordOf({ voltsOff: 0, ohmChassisMade: { value: 0.3, plusMinus: 0.1 } }));
    expect(assumptions.join('\n')).toMatch(/0\.04 of nominal voltage.*\n.*0\.75|2 Ohm/s);
    expect(assumptions.some((line) => line.includes('voltmeter reading given as a bare number'))).toBe(true);
    expect(assumptions.some((line) => line.includes('ohmmeter reading given as a bare number'))).toBe(false);
  });
});

describe('a record of several wires', () => {
  const record: BenchRecord = { system: { nominalV: 12 }, wires: [
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery' }, { tag: 'W2', wasOn: 'M', leadsTo: 'unknown' }, { tag: 'W3', wasOn: 'S' },
  ] };

  it('is answered for those that are not traced, or for those asked for', () => {
    expect(trace(record).wires.map(({ tag }) => tag)).toEqual(['W2', 'W3']);
    expect(trace(record, ['W1', 'W3']).wires.map(({ tag, measureNext }) => [tag, measureNext.length])).toEqual([['W1', 7], ['W3', 7]]);
    expect(trace({ system: { nominalV: 12 } })).toEqual({ wires: [], worthUnit: 'bit', cautions: [], assumptions: [] });
  });
});

describe('the readings asked for', () => {
  it('lead to the true place however each comes out, and never to a contradiction', () => {
    const reading = { live: 12.4, part: 5, dead: 0, joined: 0.2, through: 30, open: 'open' } as const;
    fc.assert(fc.property(fc.constantFrom(...PLACES), fc.infiniteStream(fc.nat()), (truth, dice) => {
      const readings: TraceReadings = {};
      for (let k = 0; k < 7; k += 1) {
        const wire = ask(readings);
        expect(wire.remaining).toContain(truth);
        expect(wire.conflicts).toEqual([]);
        const [next] = wire.measureNext;
        if (next === undefined) break;
        const outcomes = PREDICTIONS[truth][next.measure];
        readings[next.measure] = reading[outcomes[dice.next().value! % outcomes.length]!] as never;
      }
      // A return that an interlock's own circuit pulls up a little reads as a feed over points would: these two are left, not guessed.
      const { remaining } = ask(readings);
      if (remaining.length === 2 && readings.voltsRun === reading.part) expect(remaining).toEqual(['interlocked-return', 'cranking-feed']);
      else expect(remaining).toEqual([truth]);
    }));
  });
});
