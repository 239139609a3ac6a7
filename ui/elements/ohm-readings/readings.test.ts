import { describe, expect, it } from 'vitest';
import type { BenchRecord, OhmReading } from '../../../catalog-schema/index.ts';
import { clashesByKey, clashesOfTerminal, keyFor, layOhmTable } from './readings.ts';

const RECORD: BenchRecord = {
  system: { nominalV: 12 },
  terminals: [{ id: 'a', form: 'stud' }, { id: 'b', form: 'stud' }, { id: 'c', form: 'tab' }, { id: 'd', form: 'tab' }],
};
const READINGS: Record<string, OhmReading> = {
  r1: { between: ['c', 'd'], ohm: 4.6 }, r4: { between: ['b', 'a'], ohm: 'open' },
  r5: { between: ['d', 'c'], ohm: 4.6, by: 'supply', plusOn: 'd' }, r6: { between: ['c', 'd'], ohm: 9, pulledIn: true },
};

describe('the ohm table', () => {
  it('has every pair once and finds a reading whichever way round it was taken', () => {
    const rows = layOhmTable(RECORD, READINGS, []);
    expect(rows).toHaveLength(10);
    expect(rows.map(({ between }) => between.join('-'))).toContain('d-case');
    expect(rows.find(({ between }) => between[0] === 'a' && between[1] === 'b')?.readings.map(({ key }) => key)).toEqual(['r4']);
    expect(rows.find(({ between }) => between[0] === 'c' && between[1] === 'd')?.readings.map(({ key }) => key)).toEqual(['r1', 'r5', 'r6']);
  });

  it('keeps to pairs read or asked for where a part has many terminals', () => {
    const many = { ...RECORD, terminals: [...RECORD.terminals!, { id: 'e', form: 'tab' as const }, { id: 'f', form: 'tab' as const }] };
    const asked = [{ between: ['f', 'e'] as const, by: 'meter' as const, plusOn: undefined, pulledIn: false }];
    expect(layOhmTable(many, READINGS, asked).map(({ between }) => between.join('-'))).toEqual(['a-b', 'c-d', 'e-f']);
  });

  it('corrects a reading taken the same way and adds one taken another way', () => {
    const meter = { between: ['d', 'c'] as const, by: 'meter' as const, plusOn: undefined, pulledIn: false };
    expect(keyFor(READINGS, meter)).toBe('r1');
    expect(keyFor(READINGS, { ...meter, by: 'supply', plusOn: 'd' })).toBe('r5');
    expect(keyFor(READINGS, { ...meter, by: 'supply', plusOn: 'c' })).toBe('r7');
    expect(keyFor({ r2: READINGS['r1']! }, { ...meter, pulledIn: true })).toBe('r3');
  });

  it('marks the readings a contradiction names, counted as the record lists them', () => {
    const clashes = clashesByKey(READINGS, [{ paths: ['ohms[1]', 'ohms[3]', 'terminals[0].pitchMm', 'ohms[9]'], why: 'cannot be' }, { paths: ['ohms[1]'], why: 'cannot be' }]);
    expect([...clashes]).toEqual([['r4', ['cannot be']], ['r6', ['cannot be']]]);
  });

  it('finds what is said against a terminal', () => {
    const conflicts = [{ paths: ['terminals[1].pitchMm', 'terminals[1].majorDiameterMm'], why: 'no such thread' }, { paths: ['ohms[1]'], why: 'other' }];
    expect(clashesOfTerminal(RECORD, 'b', conflicts)).toEqual(['no such thread']);
    expect(clashesOfTerminal(RECORD, 'a', conflicts)).toEqual([]);
  });
});
