import { describe, expect, it } from 'vitest';
import type { JobConflict, JsonValue } from '../../catalog-schema/index.ts';
import { dimensionOf, groupByField, sayEntry, sayField } from './say-entry.ts';

describe('a field in words', () => {
  it.each<[string[], string]>([
    [['title'], 'What is wrong'], [['notes'], 'Notes'], [['record', 'wires', 'W1'], 'Wire W1'], [['record', 'wires', 'W1', 'colour'], 'Wire W1, colour'],
    [['record', 'wires', 'W1', 'areaMm2'], 'Wire W1, size'], [['record', 'terminals', 'lowestV', 'marking'], 'Terminal lowestV, stamp'],
    [['record', 'system', 'lowestRestingV'], 'The machine, lowest resting'], [['record', 'demand', 'inrushA'], 'What the machine asks of it, inrush'],
    [['asLeft', 'interlock Seat'], 'As left, step “interlock Seat”'], [['photographs', 'a'.repeat(64), 'seenFrom'], 'A photograph, seen from'], [['signedOff'], 'Sign-off'],
    [['record', 'benchC'], 'bench'],
  ])('%j', (field, said) => expect(sayField(field)).toBe(said));

  it('names what was seen of a fault by what was done, also where it is gone', () => {
    const volts = { kind: 'volts', startSwitch: true, plus: 'battery+', minus: 'chassis', volts: 12.1 };
    expect(sayField(['prove', 'seen', 'volts battery+ chassis on'], volts)).toBe('Volts, plus post to chassis, START held');
    expect(sayField(['prove', 'seen', 'volts battery+ chassis on'])).toBe('volts, plus post, chassis, on');
    expect(sayEntry(['prove', 'seen', 'volts battery+ chassis on'], volts, 'mm')).toBe('12.1 V');
    expect(sayField(['prove', 'system', 'batteryCcaA'])).toBe('Prove, battery’s cold-cranking amps');
  });

  it('names a reading by the two places it was read between', () => {
    expect(sayField(['record', 'ohms', 'r1'], { between: ['A', 'case'], ohm: 4 })).toBe('Ohms between A and case');
    expect(sayField(['record', 'ohms', 'r1'])).toBe('An ohm reading');
  });
});

describe('a value in words', () => {
  it.each<[string[], JsonValue, string]>([
    [['notes'], 'x', 'x'], [['notes'], null, ''], [['record', 'wires', 'W1', 'leadsTo'], 'tap', 'take-off'], [['record', 'partClass'], 'contactor', 'Contactor'],
    [['record', 'wires', 'W1', 'areaMm2'], 16, '16 mm²'], [['record', 'mounting', 'boltMm'], 6, '6 mm'], [['record', 'demand', 'inrushA'], { value: 180, plusMinus: 9 }, '180 A ± 9 A'],
    [['record', 'mounting', 'drillable'], false, 'no'], [['record', 'wires', 'W1', 'end'], { form: 'ring', holeMm: 6.4 }, 'ring lug, hole 6.4 mm'],
    [['record', 'wires', 'W1'], { wasOn: 'B', colour: 'YE/GN' }, 'sits on B, colour YE/GN'], [['chosen'], { partId: 'p', title: 'Relay', plan: null }, 'Relay, p'],
    [['record', 'system', 'interlockList'], [{ name: 'Seat', acts: 'return' }], 'name Seat, acts opens the coil’s return'],
  ])('%j %j', (field, value, said) => expect(sayEntry(field, value, 'mm')).toBe(said));

  it('is in the unit of the settings, and is cut where it is long', () => {
    expect(sayEntry(['record', 'mounting', 'boltMm'], 25.4, 'inch')).toContain('1');
    expect(sayEntry(['notes'], 'x'.repeat(400), 'mm')).toHaveLength(160);
    expect([dimensionOf('boltMm'), dimensionOf('controlOhm'), dimensionOf('minutes')]).toEqual(['length', 'resistance', 'number']);
  });
});

it('conflicts of one field stand together', () => {
  const at = (...field: string[]): JobConflict => ({ field } as unknown as JobConflict);
  expect(groupByField([at('a'), at('b'), at('a')]).map((group) => group.length)).toEqual([2, 1]);
});
