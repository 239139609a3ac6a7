import { describe, expect, it } from 'vitest';
import { identifyAnswer, type BenchRecord, type IdentifyAnswer, type OhmReading } from '../../../catalog-schema/index.ts';
import { identify } from './index.ts';

const relay: BenchRecord['terminals'] = [
  { id: 'B', form: 'stud', thread: 'M6' }, { id: 'M', form: 'stud', thread: 'M6' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' },
];
const plugIn: BenchRecord['terminals'] = ['A', 'B', 'C', 'D', 'E'].map((id) => ({ id, form: 'tab' }));
const read = (between: [string, string], ohm: OhmReading['ohm'], more: Partial<OhmReading> = {}): OhmReading => ({ between, ohm, ...more });
const ask = (ohms: OhmReading[], more: Partial<BenchRecord> = {}): IdentifyAnswer => identify({ system: { nominalV: 12 }, terminals: relay, ohms, ...more });
const best = (answer: IdentifyAnswer) => answer.circuits[0]!;
const shareOf = (answer: IdentifyAnswer, form: string): number => answer.circuits.find((each) => each.form === form)?.probability ?? 0;

const caseReadings = [read(['S', 'case'], 4.1), read(['S', 'I'], 'open'), read(['I', 'case'], 'open'), read(['B', 'M'], 'open')];
const isolated = [read(['S', 'I'], 4.1), read(['S', 'case'], 'open'), read(['I', 'case'], 'open'), read(['B', 'M'], 'open'), read(['B', 'M'], 0.1, { pulledIn: true })];

describe('circuit forms', () => {
  it('knows a coil between two small terminals from one to the case', () => {
    expect(best(ask(isolated)).form).toBe('isolated');
    expect(best(ask(isolated)).roles).toEqual({ B: 'stud', M: 'stud', S: 'coil', I: 'coil' });
    const three = relay!.filter(({ id }) => id !== 'I');
    const answer = ask([read(['S', 'case'], 4.1), read(['B', 'M'], 'open')], { terminals: three });
    expect(best(answer)).toMatchObject({ form: 'case-return', roles: { S: 'coil' } });
    expect(best(answer).probability).toBeGreaterThan(0.85);
  });

  it('knows the cranking feed by the small terminal that joins the battery stud with the coil held in', () => {
    const answer = ask([...caseReadings, read(['B', 'I'], 0.1, { pulledIn: true })]);
    expect(best(answer)).toMatchObject({ form: 'cranking-feed', roles: { S: 'start', I: 'cranking-feed' } });
    expect(best(answer).probability).toBeGreaterThan(0.99);
    // all three are joined when it is in: no probe tells the studs apart, a traced wire does
    expect(best(answer).roles).toMatchObject({ B: 'stud', M: 'stud' });
    const wired = ask([...caseReadings, read(['B', 'I'], 0.1, { pulledIn: true })], { wires: [{ tag: '1', wasOn: 'B', leadsTo: 'battery' }, { tag: '2', wasOn: 'M', leadsTo: 'starter' }] });
    expect(best(wired).roles).toMatchObject({ B: 'battery-stud', M: 'starter-stud' });
  });

  it('finds both windings of a shift solenoid, and the starter stud between them', () => {
    const answer = ask([read(['S', 'B'], { value: 0.3, plusMinus: 0.02 }), read(['S', 'case'], { value: 1.1, plusMinus: 0.04 }), read(['S', 'M'], 'open')],
      { terminals: relay!.filter(({ id }) => id !== 'I') });
    expect(best(answer)).toMatchObject({ form: 'shift-solenoid', roles: { S: 'start', B: 'starter-stud', M: 'battery-stud' } });
    expect(answer.coils.map(({ between, ohmAt20C }) => [...between, ohmAt20C])).toEqual([['S', 'B', 0.3], ['S', 'case', 1.1]]);
  });

  it('finds a winding that only the sum of two shows', () => {
    const answer = ask([read(['S', 'B'], { value: 0.3, plusMinus: 0.01 }), read(['B', 'case'], { value: 1.4, plusMinus: 0.02 })],
      { terminals: relay!.filter(({ id }) => id !== 'I'), partClass: 'shift-solenoid' });
    expect(answer.coils.find(({ between }) => between.includes('case'))!.ohmAt20C).toBeCloseTo(1.1, 1);
  });

  it('knows a changeover relay and each of its five pins', () => {
    const answer = identify({
      system: { nominalV: 12 }, terminals: plugIn,
      ohms: [read(['A', 'C'], 92), read(['B', 'D'], 0.1), read(['B', 'E'], 'open'), read(['B', 'E'], 0.1, { pulledIn: true }), read(['B', 'D'], 'open', { pulledIn: true })],
    });
    expect(answer.circuits.slice(0, 3).map(({ form }) => form).toSorted()).toEqual(['changeover', 'changeover-diode', 'changeover-resistor']);
    expect(best(answer).roles).toEqual({ A: 'coil', B: 'common', C: 'coil', D: 'nc', E: 'no' });
  });

  it('never clears a diode by equal meter readings, and finds it by a supply', () => {
    const both = (by: 'meter' | 'supply', first: number, second: number) => ask([
      ...isolated.slice(1), read(['S', 'I'], first, { plusOn: 'S', by }), read(['S', 'I'], second, { plusOn: 'I', by }),
    ]);
    const once = ask([...isolated.slice(1), read(['S', 'I'], 4.1, { plusOn: 'S', by: 'meter' })]);
    const plainOf = (answer: IdentifyAnswer) => shareOf(answer, 'isolated') + shareOf(answer, 'isolated-resistor');
    const odds = (answer: IdentifyAnswer) => shareOf(answer, 'isolated-diode') / plainOf(answer);
    expect(odds(both('meter', 4.1, 4.1))).toBeCloseTo(odds(once), 2);
    expect(odds(both('meter', 4.1, 4.1))).toBeGreaterThan(0.1);
    expect(odds(both('supply', 4.1, 4.1))).toBeLessThan(0.01);
    const found = both('supply', 4.1, 0.2);
    expect(best(found)).toMatchObject({ form: 'isolated-diode', roles: { S: 'coil+', I: 'coil-' } });
    expect(best(found).probability).toBeGreaterThan(0.9);
    expect(best(found).circuit).toContainEqual({ kind: 'diode', from: 'I', to: 'S' });
  });

  it('draws each form in the contract\'s shapes, and its probabilities sum to 1', () => {
    for (const answer of [ask([]), ask(isolated), ask(caseReadings), identify({ system: { nominalV: 24 }, ohms: [read(['x', 'y'], 15)] })]) {
      expect(identifyAnswer.safeParse(answer).error).toBeUndefined();
      expect(answer.circuits.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9);
    }
  });

  it('asks first what tells the most, and nothing once all is told', () => {
    const [first] = ask([]).measureNext.filter(({ what }) => what.startsWith('read'));
    expect(first!.what).toMatch(/between I and S/);
    const told = ask([...isolated, read(['S', 'I'], 4.1, { by: 'supply', plusOn: 'S' }), read(['S', 'I'], 4.1, { by: 'supply', plusOn: 'I' })]);
    expect(told.measureNext.filter(({ what }) => what.startsWith('read'))).toEqual([]);
  });

  it('says that a contact is burnt or welded, and a coil burnt through', () => {
    const burnt = ask([...isolated.slice(0, 4), read(['B', 'M'], 'open', { pulledIn: true })]);
    expect(burnt.conflicts).toEqual([]);
    expect(burnt.cautions.join()).toMatch(/contact between B and M does not close/);
    const welded = ask([...isolated.slice(0, 3), read(['B', 'M'], 0.1)]);
    expect(welded.cautions.join()).toMatch(/contact between B and M is closed at rest: welded/);
    const contactor = ask([read(['S', 'I'], 'open'), read(['S', 'case'], 'open'), read(['I', 'case'], 'open')], { partClass: 'contactor' });
    expect(contactor.cautions.join()).toMatch(/Open between I and S, where the coil lies/);
    expect(contactor.coils).toEqual([]);
  });

  it('names a reading that no form has together with the others', () => {
    const answer = ask([...isolated, read(['B', 'case'], 40)]);
    expect(answer.conflicts).toHaveLength(1);
    expect(answer.conflicts[0]!.paths).toContain('ohms[5]');
    expect(best(answer).form).toBe('isolated');
  });

  it('does not depend on the order of terminals and readings', () => {
    const plain = ask(isolated);
    const turned = ask(isolated.toReversed().map((each) => ({ ...each, between: [each.between[1], each.between[0]] })), { terminals: relay!.toReversed() });
    expect(turned.circuits.map(({ form, probability, roles }) => ({ form, probability, roles }))).toEqual(plain.circuits.map(({ form, probability, roles }) => ({ form, probability, roles })));
    const sorted = (answer: IdentifyAnswer) => answer.measureNext.map(({ what, worth }) => `${what} ${worth}`).toSorted();
    expect(sorted(turned)).toEqual(sorted(plain));
  });

  it('gives no roles to what has more terminals than any form, nor to a starter', () => {
    const many = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J'].map((id) => ({ id, form: 'tab' as const }));
    expect(ask([], { terminals: many }).circuits).toEqual([]);
    expect(ask(isolated, { partClass: 'starter-motor' }).circuits).toEqual([]);
  });

  it('answers in the contract\'s shape whatever sound record it is given', () => {
    const absurd: BenchRecord[] = [
      { system: { nominalV: 12 }, benchC: -270, ohms: [read(['x', 'case'], { value: 4, plusMinus: 1e-200 })] },
      { system: { nominalV: 0.001 }, ohms: [read(['x', 'case'], { value: 99_999, plusMinus: 1e200 }), read(['x', 'case'], 0), read(['case', 'x'], 0, { by: 'supply' })] },
      { system: { nominalV: 12 }, terminals: [{ id: 'x', form: 'stud', majorDiameterMm: { value: 8, plusMinus: 1e200 }, pitchMm: { value: 1.25, plusMinus: 1e-200 } }] },
      { system: { nominalV: 12 }, terminals: [{ id: 'x', form: 'tab', tabWidthMm: { value: 6.3, plusMinus: 1e200 } }], ohms: [read(['x', 'case'], 'open', { by: 'supply', plusOn: 'x' })] },
    ];
    for (const each of absurd) expect(identifyAnswer.safeParse(identify(each)).error).toBeUndefined();
  });
});
