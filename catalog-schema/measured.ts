import { z } from 'zod';
import { aboveZero, number, zeroOrMore } from './scalar.ts';

/**
 * A number, or a number with the half-width of the interval the person would swear to (about 2 sigma).
 * A bare number takes its instrument class's default (`INSTRUMENT_DEFAULTS`).
 */
export type Measured = number | { value: number; plusMinus: number };

function measuredOf(value: z.ZodNumber) {
  return z.union([value, z.strictObject({ value, plusMinus: aboveZero })], {
    error: 'want:a number, or {value, plusMinus}',
  });
}

export const measured = measuredOf(number);
export const measuredAboveZero = measuredOf(aboveZero);
export const measuredZeroOrMore = measuredOf(zeroOrMore);

export type InstrumentClass = 'caliper' | 'pitch' | 'hexagon' | 'ohmmeter' | 'clamp' | 'voltmeter';

/** Half-width for a bare number: the greater of `absolute` (in the quantity's unit) and `relative` times the value. */
export const INSTRUMENT_DEFAULTS: Readonly<
  Record<InstrumentClass, { absolute: number; relative: number; unit: string; source: string }>
> = {
  caliper: { absolute: 0.05, relative: 0, unit: 'mm', source: 'common practice, no source' },
  pitch: { absolute: 0.02, relative: 0, unit: 'mm', source: 'common practice, no source' },
  hexagon: { absolute: 0.15, relative: 0, unit: 'mm', source: 'common practice, no source' },
  ohmmeter: { absolute: 0.2, relative: 0.03, unit: 'Ohm', source: 'common practice, no source' },
  clamp: { absolute: 1, relative: 0.05, unit: 'A', source: 'common practice, no source' },
  voltmeter: { absolute: 0.02, relative: 0.01, unit: 'V', source: 'common practice, no source' },
};

/**
 * The interval a measured value stands for, in the value's own unit.
 * @returns value, low and high ends, and whether the instrument's default was used (the answer then lists it).
 */
export function intervalOf(
  measuredValue: Measured,
  instrument: InstrumentClass,
): { value: number; low: number; high: number; defaulted: boolean } {
  if (typeof measuredValue !== 'number') {
    const { value, plusMinus } = measuredValue;
    return { value, low: value - plusMinus, high: value + plusMinus, defaulted: false };
  }
  const { absolute, relative } = INSTRUMENT_DEFAULTS[instrument];
  const half = Math.max(absolute, relative * Math.abs(measuredValue));
  return { value: measuredValue, low: measuredValue - half, high: measuredValue + half, defaulted: true };
}
