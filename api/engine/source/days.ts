const DAY_MS = 86_400_000;
const LAST = Date.parse('9999-12-31T00:00:00Z');

/** A calendar day so many days later, at most the last of the calendar; days are counted in UTC, so no change of the clocks moves one. */
export function addDays(day: string, days: number): string {
  return new Date(Math.min(LAST, startOf(day) + days * DAY_MS)).toISOString().slice(0, 10);
}

/** Days from one day to another, below 0 where the other is earlier. */
export function countDays(from: string, to: string): number {
  return Math.round((startOf(to) - startOf(from)) / DAY_MS);
}

function startOf(day: string): number { return Date.parse(`${day}T00:00:00Z`); }
