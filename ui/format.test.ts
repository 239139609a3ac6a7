import { describe, expect, it } from 'vitest';
import { addDays, daysBetween, formatArrival, formatEnd, formatMeasured, formatMeasuredLength, formatNumber } from './format.ts';

describe('figures on the screens', () => {
  it('carry no needless zeros and no negative nought', () => {
    expect([formatNumber(3.2), formatNumber(3.204), formatNumber(10), formatNumber(-0.001)]).toEqual(['3.2', '3.2', '10', '0']);
  });

  it('keep the plus-minus that was given, in the unit of the length', () => {
    expect(formatMeasuredLength({ value: 7.9375, plusMinus: 0.05 }, 'mm')).toBe('7.94 mm ± 0.05 mm');
    expect(formatMeasuredLength({ value: 7.9375, plusMinus: 0.254 }, 'inch')).toBe('0.3125 in (5/16) ± 0.01 in');
    expect(formatMeasured({ value: 4.5, plusMinus: 0.3 }, 'Ω')).toBe('4.5 ± 0.3 Ω');
    expect(formatMeasured(4.5, 'Ω')).toBe('4.5 Ω');
  });

  it('name the end of a wire, and say where none was recorded', () => {
    expect(formatEnd({ form: 'ring', holeMm: 8.4 }, 'mm')).toBe('ring lug, hole 8.4 mm');
    expect(formatEnd({ form: 'receptacle', tabWidthMm: 6.3 }, 'mm')).toBe('receptacle 6.3 mm');
    expect(formatEnd(undefined, 'mm')).toBe('end not recorded');
  });

  it('count days over the end of a month and a year', () => {
    expect(addDays('2026-12-30', 3)).toBe('2027-01-02');
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
  });

  it('say today for what is here, a weekday within the week, a date beyond', () => {
    expect(formatArrival('2026-11-25', '2026-11-25')).toBe('today');
    expect(formatArrival('2026-11-26', '2026-11-25')).toBe(new Date('2026-11-26T12:00:00Z').toLocaleDateString(undefined, { weekday: 'long', timeZone: 'UTC' }));
    expect(formatArrival('2026-12-02', '2026-11-25')).toMatch(/2/);
  });
});
