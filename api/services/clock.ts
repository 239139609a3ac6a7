/** Where the time comes from: an argument, so that a test can stand on any day. */
export interface Clock {
  now(): Date;
}

export const systemClock: Clock = { now: () => new Date() };

/** The calendar day on the shop's wall, `YYYY-MM-DD`. */
export function todayOf(clock: Clock): string {
  const now = clock.now();
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${String(now.getFullYear()).padStart(4, '0')}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The day `days` calendar days after `day`; both `YYYY-MM-DD`. */
export function addDays(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}
