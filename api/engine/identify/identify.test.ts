import { describe, expect, it } from 'vitest';
import { identifyAnswer, type BenchRecord, type RecordTerminal } from '../../../catalog-schema/index.ts';
import { identify } from './index.ts';

const record = (more: Partial<BenchRecord> = {}): BenchRecord => ({ system: { nominalV: 12 }, ...more });
const stud = (more: Partial<RecordTerminal>): BenchRecord => record({ terminals: [{ id: 'B', form: 'stud', ...more }] });
const threadsOf = (more: Partial<RecordTerminal>): string[] => identify(stud(more)).threads[0]!.candidates.map(({ thread }) => thread);

describe('identify', () => {
  it('claims nothing of an empty record', () => {
    const answer = identify(record());
    expect(answer).toMatchObject({ coils: [], threads: [], tabs: [], circuits: [], conflicts: [], measureNext: [], worthUnit: 'bit' });
    expect(answer.assumptions.some((line) => line.includes('circuits are not inferred'))).toBe(true);
  });

  it('answers in the contract\'s shape', () => {
    const full = record({
      terminals: [{ id: 'B', form: 'stud', majorDiameterMm: 7.9 }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }], ohms: [{ between: ['S', 'case'], ohm: 4 }], marked: { coilV: 12 },
    });
    expect(identifyAnswer.safeParse(identify(full)).error).toBeUndefined();
  });
});

describe('threads', () => {
  it('keeps a thread that was given by name, in its canonical form', () => {
    expect(identify(stud({ thread: '5/16-18 UNC' })).threads).toEqual([{ terminal: 'B', candidates: [{ thread: '5/16-18', series: 'UNC', probability: 1 }] }]);
  });

  it('leaves M8 and 5/16 undecided without a pitch, and asks for it', () => {
    const answer = identify(stud({ majorDiameterMm: { value: 7.85, plusMinus: 0.05 } }));
    const names = answer.threads[0]!.candidates.map(({ thread }) => thread);
    expect(names).toContain('M8x1.25');
    expect(names).toContain('5/16-18');
    expect(answer.threads[0]!.candidates.every(({ probability }) => Math.abs(probability - 1 / names.length) < 1e-6)).toBe(true);
    expect(answer.measureNext[0]!.what).toMatch(/pitch of B/);
    expect(answer.measureNext[0]!.worth).toBeGreaterThan(0);
  });

  it.each([[1.25, 'M8x1.25'], [1.41, '5/16-18'], [1.06, '5/16-24']])('tells them apart by a pitch of %s mm: %s', (pitchMm, thread) => {
    expect(threadsOf({ majorDiameterMm: { value: 7.85, plusMinus: 0.05 }, pitchMm })).toEqual([thread]);
  });

  it('holds to the tolerance zone: M8 6g is 7.760 to 7.972 mm (ISO 965-1)', () => {
    expect(threadsOf({ majorDiameterMm: { value: 7.75, plusMinus: 0.009 }, pitchMm: 1.25 })).toEqual([]);
    expect(threadsOf({ majorDiameterMm: { value: 7.75, plusMinus: 0.011 }, pitchMm: 1.25 })).toEqual(['M8x1.25']);
    expect(threadsOf({ majorDiameterMm: { value: 7.98, plusMinus: 0.01 }, pitchMm: 1.25 })).toEqual(['M8x1.25']);
    expect(threadsOf({ majorDiameterMm: { value: 7.99, plusMinus: 0.01 }, pitchMm: 1.25 })).toEqual([]);
  });

  it('says so where no thread has what was measured, and where the name is denied', () => {
    expect(identify(stud({ majorDiameterMm: 3.3, pitchMm: 2 })).conflicts[0]!.paths).toEqual(['terminals[0].majorDiameterMm', 'terminals[0].pitchMm']);
    const denied = identify(stud({ thread: 'M8', majorDiameterMm: 5.9 }));
    expect(denied.conflicts).toHaveLength(1);
    expect(denied.conflicts[0]!.paths).toContain('terminals[0].thread');
  });

  it('lists the instrument of a bare number once', () => {
    const answer = identify(record({ terminals: [{ id: 'B', form: 'stud', majorDiameterMm: 7.9 }, { id: 'M', form: 'stud', majorDiameterMm: 7.9 }] }));
    expect(answer.assumptions.filter((line) => line.includes('caliper'))).toHaveLength(1);
  });
});

describe('tabs', () => {
  it('tells 4.8 from 6.3 mm, and asks for the thickness of what is left', () => {
    const tab = (tabWidthMm: number): BenchRecord => record({ terminals: [{ id: 'S', form: 'tab', tabWidthMm }] });
    expect(identify(tab(6.28)).tabs[0]!.candidates).toEqual([{ widthMm: 6.3, thicknessMm: 0.8, probability: 1 }]);
    const narrow = identify(tab(4.75));
    expect(narrow.tabs[0]!.candidates.map(({ thicknessMm }) => thicknessMm)).toEqual([0.5, 0.8]);
    expect(narrow.measureNext[0]!.what).toMatch(/thickness of tab S/);
    expect(identify(tab(5.5)).conflicts).toHaveLength(1);
  });
});

describe('coils', () => {
  const terminals: BenchRecord['terminals'] = [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'R', form: 'tab' }];
  const read = (ohm: number, more: Partial<BenchRecord> = {}): BenchRecord => record({ terminals, ohms: [{ between: ['S', 'R'], ohm: { value: ohm, plusMinus: 0.05 } }], ...more });

  it('brings 4.30 Ohm at 35 C to 4.0606 Ohm at 20 C (IEC 60028, worked figure)', () => {
    const [coil] = identify(read(4.3, { benchC: 35, marked: { coilV: 12 } })).coils;
    expect(coil!.ohmAt20C).toBeCloseTo(4.0606, 4);
    expect(coil!.amps).toBeCloseTo(12 / 4.0606, 3);
    expect(coil!.watts).toBeCloseTo(144 / 4.0606, 2);
    expect(coil!.nominalV).toEqual([{ volts: 12, probability: 1 }]);
  });

  it('does not claim a voltage that is not marked', () => {
    const answer = identify(read(4));
    expect(answer.coils[0]!.nominalV).toEqual([]);
    expect(answer.assumptions.some((line) => line.includes('nominal voltage is not marked'))).toBe(true);
  });

  it('gives an open coil no entry but a caution', () => {
    const answer = identify(record({ terminals, ohms: [{ between: ['S', 'R'], ohm: 'open' }] }));
    expect(answer.coils).toEqual([]);
    expect(answer.cautions[0]).toMatch(/S and R/);
  });

  it('takes neither a joint nor the reading across the studs for a coil', () => {
    expect(identify(record({ terminals, ohms: [{ between: ['S', 'R'], ohm: { value: 0.2, plusMinus: 0.05 } }, { between: ['B', 'M'], ohm: { value: 4, plusMinus: 0.1 } }] })).coils).toEqual([]);
  });

  it('takes thin studs for control terminals', () => {
    const studs: BenchRecord['terminals'] = [{ id: 'S', form: 'stud', thread: '#10-32' }, { id: 'I', form: 'stud', majorDiameterMm: 4.75 }];
    expect(identify(record({ terminals: studs, ohms: [{ between: ['S', 'I'], ohm: { value: 4, plusMinus: 0.1 } }] })).coils).toHaveLength(1);
  });

  it('calls contradictory readings a conflict, and probes the other way round none', () => {
    const twice = (plusOn: [string, string], ohms: [number, number]): number => identify(record({
      terminals, ohms: ohms.map((value, i) => ({ between: ['S', 'R'] as [string, string], ohm: { value, plusMinus: 0.1 }, plusOn: plusOn[i]! })),
    })).conflicts.length;
    expect(twice(['S', 'S'], [4, 8])).toBe(1);
    expect(twice(['S', 'S'], [4, 4.1])).toBe(0);
    expect(twice(['S', 'R'], [4, 8])).toBe(0);
  });
});
