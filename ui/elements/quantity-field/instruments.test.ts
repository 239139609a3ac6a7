import { describe, expect, it } from 'vitest';
import { instrumentOf, INSTRUMENTS, measureWith } from './instruments.ts';

describe('what a figure was read with', () => {
  it('leaves the number bare where the class default holds, and writes the plus-minus of any other', () => {
    expect(measureWith(7.9, 'caliper', INSTRUMENTS.diameter, undefined)).toBe(7.9);
    expect(measureWith(8, 'tape', INSTRUMENTS.diameter, undefined)).toEqual({ value: 8, plusMinus: 1 });
  });

  it('is found again in what was stored', () => {
    for (const instruments of Object.values(INSTRUMENTS)) {
      for (const { name } of instruments) {
        expect(instrumentOf(measureWith(5, name, instruments, undefined), instruments)).toBe(name);
      }
    }
  });

  it('keeps a plus-minus that is nobody’s', () => {
    const stored = { value: 5, plusMinus: 0.33 };
    expect(instrumentOf(stored, INSTRUMENTS.diameter)).toBe('own');
    expect(measureWith(6, 'own', INSTRUMENTS.diameter, 0.33)).toEqual({ value: 6, plusMinus: 0.33 });
  });
});
