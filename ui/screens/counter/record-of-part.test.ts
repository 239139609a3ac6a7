import { describe, expect, it } from 'vitest';
import { benchRecordSchema, readInput, readJobDocument, type Part } from '../../../catalog-schema/index.ts';
import { blankRecord, counterTree, recordOfPart } from './record-of-part.ts';

const part: Part = {
  id: 'p', partClass: 'shift-solenoid', title: 'Solenoid', numbers: [{ issuer: 'X', number: 'D 1' }], inside: ['j'],
  terminals: [{ id: 'B', form: 'stud', thread: 'M8x1.25' }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }],
  circuit: [
    { kind: 'coil', id: 'hold', between: ['S', 'case'], nominalV: 24, ohmAt20C: 6 }, { kind: 'coil', id: 'pull', between: ['S', 'j'], nominalV: 24, ohmAt20C: 2 },
    { kind: 'diode', from: 'j', to: 'B' },
  ],
  mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 6.4, slotMm: 4, slotAngleDeg: 0 }], conductive: true },
};

describe('a bench record made of a catalogue part', () => {
  it('is one that every door takes, with its terminals, volts and only the coils a meter can reach', () => {
    const record = recordOfPart(part);
    expect(readInput(benchRecordSchema, record).ok).toBe(true);
    expect(record.system.nominalV).toBe(24);
    expect(record.ohms).toEqual([{ between: ['S', 'case'], ohm: 6 }]);
    expect(record.marked).toEqual({ numbers: ['D 1'] });
    expect(record.mounting!.holes).toEqual([{ xMm: 0, yMm: 0, diameterMm: 6.4 }]);
  });

  it('makes a document of it that reads', () => {
    expect(readJobDocument(counterTree('Counter', recordOfPart(part))).ok).toBe(true);
    expect(readJobDocument(counterTree('Counter', blankRecord('contactor', 48))).ok).toBe(true);
  });
});
