import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { makeSteps } from './make-steps.ts';
import { facts } from './sample-checklist.ts';
import { sayCaution, sayDetails, sayLimit, sayNext, sayStep, type StepSpeech } from './say-step.ts';
import type { AsLeftStep } from './step.ts';
import { contactDropYardstick, groundDropYardstick } from './yardsticks.ts';

const record: BenchRecord = { system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud', marking: 'BAT' }] };
const part: Part = { id: 'p', partClass: 'start-relay', title: 'p', circuit: [], terminals: [{ id: '1', form: 'stud', thread: 'M6x1' }, { id: '2', form: 'tab' }] };
const speech: StepSpeech = { record, part, unit: 'mm' };
const wire = { tag: 'W1', colour: 'YE/GN', wasOn: 'B', leadsTo: 'battery' as const, end: { form: 'ring' as const, holeMm: 6.4 } };
const placed = { id: 'wire-W1', of: '', required: true, kind: 'wire' as const, wire, to: '1', newEnd: false, stack: ['W1'], torque: null, jumpers: 0, tighten: null };

describe('the words of a step', () => {
  it('name the wire with its letters, where it leads, its new place and its old one when it moves', () => {
    expect(sayStep({ ...placed, moved: true }, speech)).toBe('Wire W1 (YE/GN) from battery onto 1; it was on the old part’s B (BAT)');
    expect(sayStep({ ...placed, moved: false }, speech)).toBe('Wire W1 (YE/GN) from battery onto 1, in the place of the old part’s B (BAT)');
    expect(sayStep({ ...placed, to: 'B', moved: false }, speech)).toBe('Wire W1 (YE/GN) from battery onto B, the same place as before');
  });

  it('ask for a new end where one is needed and else say the old one', () => {
    expect(sayDetails({ ...placed, moved: false }, speech)).toContain('ring lug, hole 6.4 mm');
    expect(sayDetails({ ...placed, moved: false }, { ...speech, unit: 'inch' })).toContain('ring lug, hole 0.252 in');
    expect(sayDetails({ ...placed, moved: false, newEnd: true }, speech)).toContain('Fit a new end to the wire first.');
  });

  it('say the maker first beside every torque, and the wire that is live as soon as the battery is on', () => {
    const step: AsLeftStep = { ...placed, moved: false, tighten: { kind: 'unknown' } };
    expect(sayDetails(step, speech).join(' ')).toContain('the maker’s figure');
    expect(sayCaution(step, speech)).toContain('live as soon as');
    expect(sayCaution({ ...step, wire: { ...wire, leadsTo: 'starter' } }, speech)).toBeUndefined();
  });

  it('warn of charged capacitors from 36 V on', () => {
    const off: AsLeftStep = { id: 'battery-off', of: '', required: true, kind: 'battery-off' };
    const at = (nominalV: number): string => sayCaution(off, { ...speech, record: { system: { nominalV } } })!;
    expect(at(24)).not.toContain('apacitors');
    expect(at(36)).toContain('capacitors');
  });

  it('name the yardstick with every limit', () => {
    expect(sayLimit({ low: 6, high: undefined, unit: 'V', source: 'the part’s own' })).toBe('At least 6 V. Yardstick: the part’s own.');
    expect(sayLimit({ low: 3.2, high: 4.8, unit: 'Ω', source: 'x' })).toBe('3.2 to 4.8 Ω. Yardstick: x.');
    expect(sayLimit(groundDropYardstick())).toContain('At most 0.2 V');
    expect(sayLimit(groundDropYardstick())).toContain('common practice');
    // 0.2 V new or good, 0.3 V service limit: common practice, no source read for the exact figure
    expect(sayLimit(contactDropYardstick())).toContain('At most 0.2 V');
  });

  it('follow how an interlock acts', () => {
    const test = (acts: 'return' | 'feed' | 'stops-engine'): AsLeftStep => ({ id: 'i', of: '', required: true, kind: 'interlock', name: 'Seat', acts, shownAt: acts === 'stops-engine' ? null : '2' });
    expect(sayStep(test('return'), speech)).toContain('it must not crank');
    expect(sayDetails(test('return'), speech)[0]).toContain('2 then stands near battery volts');
    expect(sayDetails(test('feed'), speech)[0]).toContain('2 then stays at 0 V');
    expect(sayStep(test('stops-engine'), speech)).toContain('the engine must stop');
    expect(sayStep(test('return'), { ...speech, part: { ...part, partClass: 'contactor' } })).toContain('what it feeds must not run');
  });

  it('say of every step in one line what to do, and what to do next where it went wrong', () => {
    const said = makeSteps(facts).map((step) => sayStep(step, { record: facts.record, part: facts.part, unit: 'mm' }));
    expect(new Set(said).size).toBe(said.length);
    for (const step of makeSteps(facts)) expect(sayNext(step).length).toBeGreaterThan(5);
  });
});
