import { printLength, type Measured, type WireEnd } from '../catalog-schema/index.ts';
import type { LengthUnit } from './client/settings.ts';
import { words } from './words.ts';

/** A number with at most `places` decimals and no trailing zeros: 3.20 is '3.2'. */
export function formatNumber(value: number, places = 2): string {
  const rounded = Number(value.toFixed(places));
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

/** A length given in mm, in the unit of the settings. */
export function formatLength(mm: number, unit: LengthUnit): string {
  return printLength(mm, unit);
}

/** The value of a measured number without its uncertainty. */
export function valueOf(measured: Measured): number {
  return typeof measured === 'number' ? measured : measured.value;
}

/** A measured length with its plus-minus where one was given. */
export function formatMeasuredLength(measured: Measured, unit: LengthUnit): string {
  if (typeof measured === 'number') return formatLength(measured, unit);
  const half = unit === 'mm' ? `${formatNumber(measured.plusMinus)} mm` : `${formatNumber(measured.plusMinus / 25.4, 3)} in`;
  return `${formatLength(measured.value, unit)} ± ${half}`;
}

/** A measured number in its own unit, with its plus-minus where one was given. */
export function formatMeasured(measured: Measured, unitWord: string): string {
  const half = typeof measured === 'number' ? '' : ` ± ${formatNumber(measured.plusMinus)}`;
  return `${formatNumber(valueOf(measured))}${half} ${unitWord}`;
}

/** What is at the end of a wire: 'ring lug, hole 8.4 mm'. */
export function formatEnd(end: WireEnd | undefined, unit: LengthUnit): string {
  if (end === undefined) return words.wire.endNotSaid;
  switch (end.form) {
    case 'ring': return words.wire.ring(formatLength(end.holeMm, unit));
    case 'receptacle': return words.wire.receptacle(formatLength(end.tabWidthMm, unit));
    case 'bare': return words.wire.bare;
  }
}

/** Money in its currency, in the page's language. */
export function formatMoney(amount: number, currency: string): string {
  return new Intl.NumberFormat(undefined, { style: 'currency', currency }).format(amount);
}

/** The day something comes: its weekday within a week, else weekday and date. `today` and `day` are 'YYYY-MM-DD'. */
export function formatArrival(day: string, today: string): string {
  const days = daysBetween(today, day);
  if (days <= 0) return words.today;
  const date = new Date(`${day}T12:00:00Z`);
  if (days < 7) return date.toLocaleDateString(undefined, { weekday: 'long', timeZone: 'UTC' });
  return date.toLocaleDateString(undefined, { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' });
}

/** Whole days from one calendar day to another. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
}

/** The calendar day some days later, 'YYYY-MM-DD'. */
export function addDays(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}

/** A moment for a person: date and time of this device. */
export function formatMoment(iso: string): string {
  return new Date(iso).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}
