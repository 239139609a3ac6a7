import { describe, expect, it } from 'vitest';
import type { BenchRecord, ContactElement, Part } from '../../../catalog-schema/index.ts';
import { checkContactForm } from './contact-form.ts';
import { checkContactContinuous, checkContactInrush } from './contact-rating.ts';
import { Notes } from './finding.ts';
import { findInrushDemand } from './inrush-demand.ts';
import { factsOf } from '../part-facts.ts';

function relay(contact: Partial<ContactElement> = {}, partClass: Part['partClass'] = 'start-relay'): Part {
  return {
    id: 'relay', partClass, title: 'relay', terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'R', form: 'tab' }],
    circuit: [
      { kind: 'coil', id: 'k', between: ['S', 'R'], nominalV: 12 },
      { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['k'], ...contact },
    ],
  };
}

const record = (more: Partial<BenchRecord> = {}): BenchRecord => ({ system: { nominalV: 12 }, ...more });
const wires: BenchRecord['wires'] = [
  { tag: 'W1', wasOn: 'B', leadsTo: 'battery' }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter' },
];
const form = (part: Part, more: Partial<BenchRecord>): string => checkContactForm(record(more), part, factsOf(part)).outcome;
const inrush = (part: Part, more: Partial<BenchRecord>): string | undefined => checkContactInrush(record(more), part, factsOf(part), new Notes())?.outcome;

describe('contact-form', () => {
  it('asks for a normally open contact that a coil closes', () => {
    expect(form(relay(), { partClass: 'start-relay' })).toBe('pass');
    expect(form(relay({ form: 'NC' }), { partClass: 'start-relay' })).toBe('fail');
    expect(form(relay({ coils: [] }), { wires })).toBe('fail');
    expect(form({ ...relay(), circuit: [] }, { wires })).toBe('fail');
  });

  it('is not known where neither class nor wires are recorded', () => {
    expect(form(relay(), {})).toBe('unknown');
  });

  it('lets a contactor or a plug-in relay stand in for a start relay: the other checks decide', () => {
    expect(form(relay({}, 'contactor'), { partClass: 'start-relay', wires })).toBe('pass');
    expect(form(relay({}, 'plug-in-relay'), { partClass: 'start-relay', wires })).toBe('pass');
  });

  it('lets nothing but a shift solenoid stand in for one, nor one for a relay', () => {
    expect(form(relay(), { partClass: 'shift-solenoid', wires })).toBe('fail');
    expect(form(relay({}, 'shift-solenoid'), { partClass: 'shift-solenoid', wires })).toBe('pass');
    expect(form(relay({}, 'shift-solenoid'), { partClass: 'start-relay', wires })).toBe('fail');
    expect(form(relay({}, 'starter-motor'), { partClass: 'start-relay', wires })).toBe('fail');
  });

  it('asks what the fifth pin of a plug-in relay does where the wires are not recorded', () => {
    const terminals = ['30', '85', '86', '87', '87a'].map((id) => ({ id, form: 'tab' as const }));
    const changeover = relay({}, 'plug-in-relay');
    changeover.circuit.push({ kind: 'contact', id: 'nc', between: ['B', 'R'], form: 'NC', coils: ['k'] });
    expect(form(relay({}, 'plug-in-relay'), { partClass: 'plug-in-relay', terminals })).toBe('unknown');
    expect(form(changeover, { partClass: 'plug-in-relay', terminals })).toBe('pass');
    expect(form(relay({}, 'plug-in-relay'), { partClass: 'plug-in-relay', terminals, wires })).toBe('pass');
  });
});

describe('contact-inrush', () => {
  it.each([[189, 'unknown'], [190, 'pass'], [170, 'unknown'], [169, 'fail']])('a rating of %s A for 180 A within 10: %s', (inrushA, outcome) => {
    expect(inrush(relay({ inrushA }), { demand: { inrushA: { value: 180, plusMinus: 10 } } })).toBe(outcome);
  });

  it('gives a bare clamp reading 5 %, and lists it', () => {
    const notes = new Notes();
    const part = relay({ inrushA: 209 });
    expect(checkContactInrush(record({ demand: { inrushA: 200 } }), part, factsOf(part), notes)!.outcome).toBe('unknown');
    expect([...notes.assumptions]).toEqual([expect.stringMatching(/clamp/)]);
    expect(inrush(relay({ inrushA: 210 }), { demand: { inrushA: 200 } })).toBe('pass');
  });

  it('is left out of a start relay where nothing is asked', () => {
    expect(inrush(relay(), { wires })).toBeUndefined();
  });

  it('is always asked of a contactor that feeds a starter', () => {
    expect(inrush(relay({ inrushA: 300 }, 'contactor'), { wires })).toBe('unknown');
    expect(inrush(relay({ inrushA: 300 }, 'contactor'), { wires, demand: { inrushA: { value: 200, plusMinus: 5 } } })).toBe('pass');
    expect(inrush(relay({ inrushA: 300 }, 'contactor'), {})).toBeUndefined();
  });

  it('is unknown where the part does not give its rating', () => {
    expect(inrush(relay({ continuousA: 500 }), { demand: { inrushA: 100 } })).toBe('unknown');
  });

  it('is unknown where battery and cable are given and the starter is not', () => {
    expect(inrush(relay({ inrushA: 300 }), { demand: { from: { batteryCcaA: 230 } } })).toBe('unknown');
  });
});

describe('the inrush computed from battery, cable and starter', () => {
  it('lies about the stall current of a worked circuit: 12.60 V over 57.42 mOhm without the contact', () => {
    // Battery 10 mOhm, 2.0 m of 16 mm2, starter 45 mOhm, worked by hand and in ngspice as 217.5 A with 0.5 mOhm of contact more.
    const demand = findInrushDemand(record({
      demand: { from: { batteryCcaA: 540, restingV: 12.6, cable: [{ areaMm2: 16, lengthMm: 2000 }], starterOhm: { value: 0.045, plusMinus: 0.001 } } },
    }), new Notes())!;
    // Greatest battery resistance (12.6 - 7.2) / 540 = 10 mOhm, copper 2 / (58 x 16) = 2.155 mOhm.
    expect(demand.low).toBeCloseTo(12.6 / (0.01 + 0.002155 * 1.1 + 0.046), 1);
    expect(demand.high).toBeCloseTo(12.6 / (0.005 + 0.002155 + 0.044), 1);
    expect(demand.low).toBeLessThan(217.5);
    expect(demand.high).toBeGreaterThan(217.5);
  });

  it('knows only the most it can be where battery or cable are not given', () => {
    const demand = findInrushDemand(record({ demand: { from: { restingV: 12.6, starterOhm: { value: 0.05, plusMinus: 0.001 } } } }), new Notes())!;
    expect(demand.low).toBe(0);
    expect(demand.high).toBeCloseTo(12.6 / 0.049, 6);
    expect(inrush(relay({ inrushA: 100 }), { demand: { from: { starterOhm: 0.05 } } })).toBe('unknown');
    expect(inrush(relay({ inrushA: 400 }), { demand: { from: { starterOhm: 0.05 } } })).toBe('pass');
  });

  it('gives way to a clamp reading', () => {
    expect(findInrushDemand(record({ demand: { inrushA: { value: 90, plusMinus: 1 }, from: { starterOhm: 0.01 } } }), new Notes())).toMatchObject({ low: 89, high: 91 });
  });
});

describe('contact-continuous', () => {
  const continuous = (continuousA: number | undefined, demand: BenchRecord['demand']): string | undefined =>
    checkContactContinuous(record({ demand }), relay({ continuousA }), factsOf(relay({ continuousA })), new Notes())?.outcome;
  it.each([[49, 'fail'], [51, 'unknown'], [52, 'pass']])('a rating of %s A for 51 A within 1: %s', (rating, outcome) => {
    expect(continuous(rating, { continuousA: { value: 51, plusMinus: 1 } })).toBe(outcome);
  });
  it('is left out where nothing is asked, unknown where the part is silent', () => {
    expect(continuous(100, {})).toBeUndefined();
    expect(continuous(undefined, { continuousA: 10 })).toBe('unknown');
  });
});
