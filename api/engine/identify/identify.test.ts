import { describe, expect, it } from 'vitest';
import { identifyAnswer, type BenchRecord, type RecordTerminal } from '../../../catalog-schema/index.ts';
import { identify } from './index.ts';

const record = (more: Partial<BenchRecord> = {}): BenchRecord => ({ system: { nominalV: 12 }, ...more });
const stud = (more: Partial<RecordTerminal>): BenchRecord => record({ terminals: [{ id: 'B', form: 'stud', ...more }] });

describe('identify', () => {
  it('claims nothing of an empty record', () => {
    const answer = identify(record());
    expect(answer).toMatchObject({ coils: [], threads: [], tabs: [], circuits: [], conflicts: [], cautions: [], worthUnit: 'bit' });
    expect(answer.measureNext.map(({ what }) => what)).toEqual(['list the terminals of the part and what each looks like']);
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

  it.each([
    [7.85, 'M8x1.25', '5/16-18'], [5.92, 'M6x1', '1/4-20'], [4.82, 'M5x0.8', '#10-32'],
  ])('says so when a diameter leaves near twins open, and asks for the pitch (%s mm)', (value, ...twins) => {
    const answer = identify(stud({ majorDiameterMm: { value, plusMinus: 0.3 } }));
    const shares = new Map(answer.threads[0]!.candidates.map(({ thread, probability }) => [thread, probability]));
    for (const twin of twins) {
      expect(shares.get(twin)).toBeGreaterThan(0.05);
      expect(shares.get(twin)).toBeLessThan(0.9);
    }
    expect([...shares.values()].reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
    const pitch = answer.measureNext.find(({ what }) => what === 'measure the pitch of B');
    expect(pitch?.worth).toBeGreaterThan(0.5);
    expect(answer.measureNext[0]).toBe(pitch);
  });

  it('says which threads the pitch would tell apart', () => {
    const [next] = identify(stud({ majorDiameterMm: 7.85 })).measureNext;
    expect(next!.what).toBe('measure the pitch of B');
    expect(next!.why).toMatch(/tells M8x1.25 from 5\/16-18|tells 5\/16-18 from M8x1.25/);
  });

  it.each([[1.25, 'M8x1.25'], [1.41, '5/16-18'], [1.06, '5/16-24']])('tells them apart by a pitch of %s mm: %s', (pitchMm, thread) => {
    const [best] = identify(stud({ majorDiameterMm: 7.85, pitchMm })).threads[0]!.candidates;
    expect(best).toMatchObject({ thread });
    expect(best!.probability).toBeGreaterThan(0.999);
  });

  it('tells M8 from 5/16 by a nut of 13 mm (ISO 4032: 12.73 to 13) against 12.7 mm (ASME B18.2.2)', () => {
    const best = (nutAcrossFlatsMm: number) => identify(stud({ majorDiameterMm: 7.85, nutAcrossFlatsMm: { value: nutAcrossFlatsMm, plusMinus: 0.05 } })).threads[0]!.candidates[0];
    expect(best(12.98)).toMatchObject({ thread: 'M8x1.25' });
    expect(best(12.5)).toMatchObject({ thread: '5/16-18' });
  });

  it('takes a coarse thread for likelier than a fine one where nothing else tells', () => {
    const shares = new Map(identify(stud({ majorDiameterMm: { value: 9.85, plusMinus: 0.1 } })).threads[0]!.candidates.map(({ thread, probability }) => [thread, probability]));
    expect(shares.get('M10x1.5')).toBeGreaterThan(4 * shares.get('M10x1')!);
  });

  // ISO 965-1 6g: M8 is 7.760 to 7.972 mm; ASME B1.1 2A: 5/16-18 is 0.3026 to 0.3113 in (7.686 to 7.907 mm).
  it.each([
    ['M8x1.25', 1.25, 7.76, 7.972], ['5/16-18', 25.4 / 18, 0.3026 * 25.4, 0.3113 * 25.4],
  ])('holds to the tolerance zone of %s', (thread, pitchMm, low, high) => {
    const at = (value: number) => identify(stud({ majorDiameterMm: { value, plusMinus: 0.004 }, pitchMm }));
    for (const inside of [low, (low + high) / 2, high]) expect(at(inside).threads[0]!.candidates[0]!.thread).toBe(thread);
    for (const outside of [low - 0.012, high + 0.012]) {
      expect(at(outside).conflicts).toHaveLength(1);
      expect(at(outside).threads[0]!.candidates).toEqual([]);
    }
  });

  it('says so where no thread has what was measured, and where the name is denied', () => {
    expect(identify(stud({ majorDiameterMm: 3.3, pitchMm: 2 })).conflicts[0]!.paths).toEqual(['terminals[0].majorDiameterMm', 'terminals[0].pitchMm']);
    const denied = identify(stud({ thread: 'M8', majorDiameterMm: 5.9 }));
    expect(denied.conflicts).toHaveLength(1);
    expect(denied.conflicts[0]!.paths).toContain('terminals[0].thread');
  });

  it('lists the instrument of a bare number once', () => {
    const answer = identify(record({ terminals: [{ id: 'B', form: 'stud', majorDiameterMm: 7.9 }, { id: 'M', form: 'stud', majorDiameterMm: 7.9 }] }));
    expect(answer.assumptions.filter((line) => line.includes('caliper reading'))).toHaveLength(1);
  });
});

describe('tabs', () => {
  const tab = (more: Partial<RecordTerminal>): BenchRecord => record({ terminals: [{ id: 'S', form: 'tab', ...more }] });

  it('tells 4.8 from 6.3 mm, and asks for the thickness of what is left', () => {
    expect(identify(tab({ tabWidthMm: 6.28 })).tabs[0]!.candidates).toEqual([{ widthMm: 6.3, thicknessMm: 0.8, probability: 1 }]);
    const narrow = identify(tab({ tabWidthMm: 4.75 }));
    expect(narrow.tabs[0]!.candidates.map(({ thicknessMm }) => thicknessMm).toSorted()).toEqual([0.5, 0.8]);
    expect(narrow.measureNext.map(({ what }) => what)).toContain('measure the thickness of tab S');
    expect(identify(tab({ tabWidthMm: 5.5 })).conflicts).toHaveLength(1);
  });

  // IEC 61210 (limits from memory): 6.3 mm tabs are 6.20 to 6.40 mm wide and 0.77 to 0.84 mm thick.
  it('holds to the limits of IEC 61210', () => {
    for (const width of [6.2, 6.4]) expect(identify(tab({ tabWidthMm: { value: width, plusMinus: 0.01 } })).conflicts).toEqual([]);
    for (const width of [6.17, 6.43]) expect(identify(tab({ tabWidthMm: { value: width, plusMinus: 0.01 } })).conflicts[0]!.paths).toEqual(['terminals[0].tabWidthMm']);
    expect(identify(tab({ tabWidthMm: 4.75, tabThicknessMm: 0.8 })).tabs[0]!.candidates[0]).toMatchObject({ widthMm: 4.8, thicknessMm: 0.8 });
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

  it('tells the nominal voltage from the ohms, as far as they tell it', () => {
    const volts = (ohm: number, nominalV: number) => identify({ ...read(ohm), system: { nominalV } }).coils[0]!.nominalV;
    expect(volts(4, 12)[0]).toMatchObject({ volts: 12 });
    expect(volts(4, 12)[0]!.probability).toBeGreaterThan(0.95);
    // 16 Ohm draw 9 W at 12 V, which few start relays do, and 36 W at 24 V
    expect(volts(16, 24)[0]).toMatchObject({ volts: 24 });
    expect(volts(16, 12).find((each) => each.volts === 24)!.probability).toBeGreaterThan(0.05);
    expect(volts(16, 12).reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9);
  });

  it('gives an open coil no entry but a caution', () => {
    const answer = identify(record({ terminals, ohms: [{ between: ['S', 'R'], ohm: 'open' }] }));
    expect(answer.coils).toEqual([]);
    expect(answer.cautions[0]).toMatch(/R and S/);
  });

  it('takes neither a joint nor the reading across the studs for a coil', () => {
    expect(identify(record({ terminals, ohms: [{ between: ['S', 'R'], ohm: { value: 0.2, plusMinus: 0.05 } }, { between: ['B', 'M'], ohm: { value: 4, plusMinus: 0.1 } }] })).coils).toEqual([]);
  });

  it('takes thin studs for control terminals', () => {
    const studs: BenchRecord['terminals'] = [{ id: 'S', form: 'stud', thread: '#10-32' }, { id: 'I', form: 'stud', majorDiameterMm: 4.75 }];
    expect(identify(record({ terminals: studs, ohms: [{ between: ['S', 'I'], ohm: { value: 4, plusMinus: 0.1 } }] })).coils).toHaveLength(1);
  });

  it('calls contradictory readings a conflict, and a supply put on the other way round none', () => {
    const twice = (plusOn: [string, string], ohms: [number, number], by: 'meter' | 'supply'): string[][] => identify(record({
      terminals, ohms: ohms.map((value, i) => ({ between: ['S', 'R'] as [string, string], ohm: { value, plusMinus: 0.1 }, plusOn: plusOn[i]!, by })),
    })).conflicts.map(({ paths }) => paths);
    expect(twice(['S', 'S'], [4, 8], 'meter')).toEqual([['ohms[0]', 'ohms[1]']]);
    expect(twice(['S', 'S'], [4, 4.1], 'meter')).toEqual([]);
    // a meter's test current turns no diode on: the way round cannot matter
    expect(twice(['S', 'R'], [4, 8], 'meter')).toEqual([['ohms[0]', 'ohms[1]']]);
    expect(twice(['S', 'R'], [4, 0.3], 'supply')).toEqual([]);
  });
});
