import { intervalOf, type InstrumentClass, type Measured } from '../../../catalog-schema/index.ts';
import { describeInstrument } from '../settings.ts';

/** The interval of a measured value; the instrument's default, where it is used, is put among the assumptions. */
export function readMeasured(measured: Measured, instrument: InstrumentClass, assumptions: Set<string>): { value: number; low: number; high: number } {
  const interval = intervalOf(measured, instrument);
  if (interval.defaulted) assumptions.add(describeInstrument(instrument));
  return interval;
}

/** At most `places` decimals. */
export function showNumber(value: number, places = 3): string {
  const scale = 10 ** places;
  return String(Math.round(value * scale) / scale + 0);
}
