/** Where the time comes from: an argument, so that a test can stand on any day. */
export interface Clock {
  now(): Date;
}

export const systemClock: Clock = { now: () => new Date() };

/** The calendar day on the shop's wall, `YYYY-MM-DD`. */
export function todayOf(clock: Clock): string {
  return dayOf(clock.now());
}

/** The calendar day of a moment on the shop's wall. */
export function dayOf(moment: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${String(moment.getFullYear()).padStart(4, '0')}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}

/** The time on the shop's wall, `HH:MM`. */
export function timeOf(clock: Clock): string {
  return clockOf(clock.now());
}

/** The time of a moment on the shop's wall. */
export function clockOf(moment: Date): string {
  return `${String(moment.getHours()).padStart(2, '0')}:${String(moment.getMinutes()).padStart(2, '0')}`;
}

/** The day `days` calendar days after `day`; both `YYYY-MM-DD`. */
export function addDays(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}
