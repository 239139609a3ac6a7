import { describe, expect, it } from 'vitest';
import type { SupplierCalendar } from '../../../catalog-schema/index.ts';
import { arrivalDate, daysToArrival } from './arrival-date.ts';

// 2026-11-25 is a Wednesday, by ISO 8601 week 48 day 3.
const WEEKDAYS: SupplierCalendar = { cutOff: '14:00', workDays: [1, 2, 3, 4, 5] };

describe('the day an order arrives', () => {
  it('is so many calendar days on where the supplier has no calendar, over the end of a year too', () => {
    expect(arrivalDate({ day: '2026-12-30', time: '23:59' }, 3)).toBe('2027-01-02');
    expect(daysToArrival({ day: '2026-11-25' }, 0)).toBe(0);
  });

  it.each([
    ['before the cut-off, the lead days count from that day', '2026-11-25', '13:59', 1, '2026-11-26'],
    ['at the cut-off it is the next day\'s order', '2026-11-25', '14:00', 1, '2026-11-27'],
    ['no lead time means the day itself', '2026-11-25', '09:00', 0, '2026-11-25'],
    ['late on a Friday it counts from Monday', '2026-11-27', '16:00', 0, '2026-11-30'],
    ['a weekend is no lead time', '2026-11-27', '09:00', 1, '2026-11-30'],
    ['sent on a Saturday after the hour of the cut-off it is Monday\'s, not Tuesday\'s', '2026-11-28', '16:00', 0, '2026-11-30'],
    ['five working days are a week', '2026-11-25', '09:00', 5, '2026-12-02'],
  ])('%s', (_, day, time, leadDays, arrives) => {
    expect(arrivalDate({ day, time }, leadDays, WEEKDAYS)).toBe(arrives);
  });

  it('passes over holidays, and over a holiday on which the order is sent', () => {
    const calendar: SupplierCalendar = { ...WEEKDAYS, holidays: ['2026-12-25', '2026-12-28', '2027-01-01'] };
    expect(arrivalDate({ day: '2026-12-24', time: '09:00' }, 1, calendar)).toBe('2026-12-29');
    expect(arrivalDate({ day: '2026-12-25', time: '18:00' }, 0, calendar)).toBe('2026-12-29');
  });

  it('is told without a time as if it were sent before the cut-off', () => {
    expect(arrivalDate({ day: '2026-11-25' }, 1, WEEKDAYS)).toBe('2026-11-26');
  });

  it('takes every day for a working day where only a cut-off is given', () => {
    expect(arrivalDate({ day: '2026-11-28', time: '15:00' }, 1, { cutOff: '14:00' })).toBe('2026-11-30');
  });
});
