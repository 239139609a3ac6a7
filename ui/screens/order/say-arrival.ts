import { formatArrival } from '../../format.ts';
import { orderWords } from '../../words/orders.ts';

/** When something comes, or since when it is overdue. `day` and `today` are 'YYYY-MM-DD'. */
export function sayArrival(day: string, today: string, promised = false): string {
  if (day < today) return orderWords.wasDue(new Date(`${day}T12:00:00Z`).toLocaleDateString(undefined, { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' }));
  return (promised ? orderWords.promised : orderWords.comes)(formatArrival(day, today));
}
