import { INSTRUMENT_DEFAULTS, intervalOf, type InstrumentClass, type Measured } from '../../../catalog-schema/index.ts';
import { describeInstrument } from '../settings.ts';

/**
 * A measured value with the interval the person would swear to and its sigma (half of the half-width); the instrument's default, where
 * it is used, is put among the assumptions.
 */
export function readMeasured(measured: Measured, instrument: InstrumentClass, assumptions: Set<string>): { value: number; low: number; high: number; sigma: number } {
  const { value, low, high, defaulted } = intervalOf(measured, instrument);
  if (defaulted) assumptions.add(describeInstrument(instrument));
  return { value, low, high, sigma: (high - low) / 4 };
}

/** Sigma of a reading not taken yet, with an instrument whose error does not grow with what it reads. */
export function defaultSigma(instrument: 'caliper' | 'pitch' | 'hexagon'): number {
  return INSTRUMENT_DEFAULTS[instrument].absolute / 2;
}

/** At most `places` decimals. */
export function showNumber(value: number, places = 3): string {
  const scale = 10 ** places;
  return Math.abs(value) < 1e15 ? String(Math.round(value * scale) / scale + 0) : String(value);
}
