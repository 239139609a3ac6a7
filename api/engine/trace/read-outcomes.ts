import { intervalOf, type Measured, type TraceMeasurement, type TraceOutcome } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';

/** What a reading can mean: the outcomes whose range its interval touches. Empty where no machine of this voltage gives it. */
export interface OutcomeRead {
  readonly outcomes: readonly TraceOutcome[];
  /** the half-width came from the instrument's class */
  readonly defaulted: boolean;
}

export function isVolts(measure: TraceMeasurement): boolean {
  switch (measure) {
    case 'voltsOff': case 'voltsRun': case 'voltsStart': return true;
    case 'ohmChassisMade': case 'ohmChassisOpen': case 'ohmStarterCable': case 'ohmBatteryPlus': return false;
  }
}

/** Volts by their size alone: a minus sign says that the probes were exchanged. */
export function readOutcomes(measure: TraceMeasurement, reading: Measured | 'open', nominalV: number): OutcomeRead {
  if (reading === 'open') return { outcomes: ['open'], defaulted: false };
  const { value, low, high, defaulted } = intervalOf(reading, isVolts(measure) ? 'voltmeter' : 'ohmmeter');
  if (!isVolts(measure)) return { outcomes: touched(low, high, 'joined', settingOf('traceJoinedOhm'), 'through', settingOf('openFromOhm'), 'open'), defaulted };
  const half = (high - low) / 2;
  const volts = Math.abs(value);
  if (volts - half > settingOf('traceMostOfNominal') * nominalV) return { outcomes: [], defaulted };
  return { outcomes: touched(volts - half, volts + half, 'dead', settingOf('traceDeadOfNominal') * nominalV, 'part', settingOf('traceLiveOfNominal') * nominalV, 'live'), defaulted };
}

/** The first range reaches up to its limit, the last one begins at its own. */
function touched(low: number, high: number, first: TraceOutcome, firstTo: number, middle: TraceOutcome, lastFrom: number, last: TraceOutcome): TraceOutcome[] {
  return [...(low <= firstTo ? [first] : []), ...(high > firstTo && low < lastFrom ? [middle] : []), ...(high >= lastFrom ? [last] : [])];
}
