import { expect, test } from 'vitest';
import { addDays, todayOf } from './clock.ts';

test('today is the day on the shop’s own wall', () => {
  expect(todayOf({ now: () => new Date(2026, 0, 5, 0, 0, 1) })).toBe('2026-01-05');
  expect(todayOf({ now: () => new Date(2026, 0, 5, 23, 59, 59) })).toBe('2026-01-05');
});

test('days are counted over months, leap days and changes of the clock', () => {
  expect(addDays('2026-11-25', 0)).toBe('2026-11-25');
  expect(addDays('2028-02-28', 1)).toBe('2028-02-29');
  expect(addDays('2026-03-28', 2)).toBe('2026-03-30');
  expect(addDays('2026-12-31', 1)).toBe('2027-01-01');
});
