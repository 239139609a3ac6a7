import { describe, expect, it } from 'vitest';
import { nearestFraction, printLength, printNumber, printQuantity } from './print-quantity.ts';

describe('printing', () => {
  it.each([[7.9375, '7.94 mm', '0.3125 in (5/16)'], [8, '8 mm', '0.315 in'], [25.4, '25.4 mm', '1 in'], [34.925, '34.93 mm', '1.375 in (1-3/8)'],
    [8.33, '8.33 mm', '0.328 in (21/64)'], [0, '0 mm', '0 in'], [-7.9375, '-7.94 mm', '-0.3125 in (-5/16)'], [12.5, '12.5 mm', '0.4921 in'], [100, '100 mm', '3.937 in (3-15/16)']])(
    '%s mm is %s or %s', (mm, metric, inch) => {
      expect([printLength(mm, 'mm'), printLength(mm, 'inch')]).toEqual([metric, inch]);
    });

  it('names a sixty-fourth only within 0.02 mm', () => {
    expect([nearestFraction(7.9375 + 0.019), nearestFraction(7.9375 + 0.021)]).toEqual(['5/16', undefined]);
  });

  it.each([[0, '0'], [1234567.8, '1234568'], [0.000123456789, '0.000123457'], [100, '100'], [-2.5, '-2.5'], [1e-15, '0']])('%s prints as %s', (value, printed) => {
    expect(printNumber(value)).toBe(printed);
  });

  it.each<[number, string, string]>([[12.634, 'V', '12.63 V'], [0.045, 'Ω', '45 mΩ'], [3.2, 'Ω', '3.2 Ω'], [0, 'A', '0 A'], [150, 'A', '150 A'], [0.05, 'mm', '0.05 mm']])(
    '%s %s prints as %s', (value, unit, printed) => {
      expect(printQuantity(value, unit)).toBe(printed);
    });
});
