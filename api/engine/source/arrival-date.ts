import type { SupplierCalendar } from '../../../catalog-schema/index.ts';
import { addDays, countDays } from './days.ts';

/** When an order is sent, by the clock on the shop's wall: a day, and the time 'HH:MM', without which it is before every cut-off. */
export interface SentAt { readonly day: string; readonly time?: string | undefined }

/** No calendar is looked through further: one whose days are all holidays for so long delivers on the day the search ends. */
const MOST_DAYS = 4000;

/**
 * The day an order arrives.
 * Without a calendar: so many calendar days after the day it is sent. With one: an order sent at the cut-off or later, or on a day on which
 * the supplier does not work, counts as sent on the next working day, and `leadDays` are working days from there, so that 0 is that day itself.
 * @param leadDays whole days, 0 or more
 */
export function arrivalDate(sent: SentAt, leadDays: number, calendar?: SupplierCalendar): string {
  if (calendar === undefined) return addDays(sent.day, leadDays);
  const { cutOff, workDays, holidays } = calendar;
  const closed = new Set(holidays);
  const works = (day: string): boolean => (workDays === undefined || workDays.includes(weekdayOf(day))) && !closed.has(day);
  const late = cutOff !== undefined && sent.time !== undefined && sent.time >= cutOff;
  let day = late && works(sent.day) ? addDays(sent.day, 1) : sent.day;
  let left = leadDays;
  for (let looked = 0; looked < MOST_DAYS + leadDays * 7; looked++) {
    if (works(day) && left-- === 0) return day;
    day = addDays(day, 1);
  }
  return day;
}

/** Calendar days from the day an order is sent to the day it arrives. */
export function daysToArrival(sent: SentAt, leadDays: number, calendar?: SupplierCalendar): number {
  return calendar === undefined ? leadDays : countDays(sent.day, arrivalDate(sent, leadDays, calendar));
}

/** ISO 8601: Monday is 1, Sunday 7. */
function weekdayOf(day: string): number {
  return new Date(`${day}T00:00:00Z`).getUTCDay() || 7;
}
