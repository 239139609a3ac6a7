import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { sayCaution, sayDetails, sayLimit, sayStep, type StepSpeech } from './step-words.ts';
import type { AsLeftStep } from './steps.ts';
import { CONTACT_DROP, GROUND_DROP, isWithin } from './yardsticks.ts';

const record: BenchRecord = { system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud', marking: 'BAT' }] };
const part: Part = { id: 'p', partClass: 'start-relay', title: 'p', circuit: [], terminals: [{ id: '1', form: 'stud', thread: 'M6x1' }, { id: '2', form: 'tab' }] };
const speech: StepSpeech = { record, part, unit: 'mm' };
const wire = { tag: 'W1', colour: 'YE/GN', wasOn: 'B', leadsTo: 'battery' as const, end: { form: 'ring' as const, holeMm: 6.4 } };
const placed = { id: 'wire-W1', required: true, kind: 'wire' as const, wire, to: '1', newEnd: false, stack: ['W1'], torque: null, jumpers: 0, tighten: null };

describe('the words of a step', () => {
  it('name the wire with its letters, where it leads, its new place and its old one when it moves', () => {
    expect(sayStep({ ...placed, moved: true }, speech)).toBe('Wire W1 (YE/GN) from battery onto 1; it was on the old part’s B (BAT)');
    expect(sayStep({ ...placed, moved: false }, speech)).toBe('Wire W1 (YE/GN) from battery onto 1, in the place of the old part’s B (BAT)');
    expect(sayStep({ ...placed, to: 'B', moved: false }, speech)).toBe('Wire W1 (YE/GN) from battery onto B, the same place as before');
  });

  it('ask for a new end where one is needed and else say the old one', () => {
    expect(sayDetails({ ...placed, moved: false }, speech)).toContain('ring lug, hole 6.4 mm');
    expect(sayDetails({ ...placed, moved: false, newEnd: true }, speech)).toContain('Fit a new end to the wire first.');
  });

  it('say the maker first beside every torque', () => {
    const step: AsLeftStep = { ...placed, moved: false, tighten: { kind: 'unknown' } };
    expect(sayDetails(step, speech).join(' ')).toContain('the maker’s figure');
  });

  it('warn of charged capacitors from 36 V on', () => {
    const off: AsLeftStep = { id: 'battery-off', kind: 'battery-off', required: true };
    const at = (nominalV: number): string => sayCaution(off, { ...speech, record: { system: { nominalV } } })!;
    expect(at(24)).not.toContain('apacitors');
    expect(at(36)).toContain('capacitors');
  });

  it('name the yardstick with every limit', () => {
    expect(sayLimit({ low: 6, high: undefined, unit: 'V', source: 'catalogue' })).toBe('At least 6 V. Yardstick: the part’s own figures in the catalogue.');
    expect(sayLimit(GROUND_DROP)).toContain('At most 0.2 V');
    expect(sayLimit(GROUND_DROP)).toContain('common practice');
  });
});

describe('the customary drops', () => {
  it('hold a contact that has just gone on to the figure for new ones', () => {
    // 0.2 V new or good, 0.3 V service limit: common practice, no source read for the exact figure
    expect(CONTACT_DROP.high).toBe(0.2);
    expect([0.2, 0.2001].map((volts) => isWithin(volts, CONTACT_DROP))).toEqual([true, false]);
  });
});
