import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { normalTail } from '../normal-tail.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { readMeasured } from './read-measured.ts';
import { normalDensity } from './posterior.ts';
import type { Said } from './said.ts';

/** One ohm reading, its ends numbered like `points`. */
export interface BenchReading {
  readonly index: number;
  readonly a: number;
  readonly b: number;
  readonly held: boolean;
  readonly plus: 'meter' | 'a' | 'b' | 'either';
  readonly open: boolean;
  /** Ohm; of no meaning when open */
  readonly value: number;
  readonly sigma: number;
  /** log-likelihood where nothing joins, and where a joint does */
  readonly logOpen: number;
  readonly logJoint: number;
  /** likelihood of a slip, and its logarithm */
  readonly slip: number;
  readonly logSlip: number;
  /** the most that the ohms of a winding give it, slip aside; nothing when open */
  readonly peak: number;
  /** the most a winding can give it */
  readonly logMost: number;
}

const LEAST_OHM = 0.05;
/** no ohmmeter is better than this, of the value or of an Ohm: keeps an absurd plusMinus from breaking the arithmetic */
const LEAST_SIGMA = 1e-5;
/** a supply that drives a conducting diode: the least volts over amps worth telling apart, and the error of reading them, Ohm */
const LEAST_FORWARD_OHM = 0.003;
const FORWARD_SIGMA_OHM = 0.02;

/** The points a record's readings touch: its terminals (or the names its readings use) by name, so that their order in the record
 * changes nothing; 'case' last. */
export function pointsOf(record: BenchRecord): string[] {
  const named = record.terminals?.map(({ id }) => id)
    ?? [...new Set([...(record.ohms ?? []).flatMap(({ between }) => between), ...(record.wires ?? []).map(({ wasOn }) => wasOn)])];
  return [...named.filter((name) => name !== 'case').toSorted(), 'case'];
}

export function readBench(record: BenchRecord, points: readonly string[], said: Said): BenchReading[] {
  const at = new Map(points.map((name, index) => [name, index]));
  return (record.ohms ?? []).map((reading, index) => {
    const measured = reading.ohm === 'open' ? undefined : readMeasured(reading.ohm, 'ohmmeter', said.assumptions);
    const open = measured === undefined || measured.value >= settingOf('openFromOhm');
    if (measured !== undefined && open) said.assumptions.add(describeSetting('openFromOhm'));
    const value = measured?.value ?? 0;
    const sigma = measured === undefined ? 1 : Math.max(measured.sigma, LEAST_SIGMA * Math.max(1, value));
    const stray = settingOf('strayReadingShare');
    const [a, b] = [at.get(reading.between[0])!, at.get(reading.between[1])!];
    const slip = stray * (open ? OPEN_SLIP : strayDensity(value));
    const logSlip = Math.log(slip);
    const mixed = (density: number): number => Math.log((1 - stray) * density + slip);
    return {
      index, a, b, held: reading.pulledIn === true, open, value, sigma, slip, logSlip, peak: open ? 0 : (1 - stray) * normalDensity(0, 0, sigma),
      plus: reading.by !== 'supply' ? 'meter' : reading.plusOn === undefined ? 'either' : reading.plusOn === reading.between[0] ? 'a' : 'b',
      logOpen: open ? Math.log(1 - stray + stray * OPEN_SLIP) : logSlip,
      logJoint: open ? logSlip : mixed(normalDensity(value, LEAST_OHM, Math.hypot(sigma, settingOf('jointOhm')))),
      logMost: open ? logSlip : mixed(Math.max(1 / sigma, 1 / FORWARD_SIGMA_OHM)),
    };
  });
}

/** share of slips that show nothing at all */
const OPEN_SLIP = 0.3;

function strayDensity(value: number): number {
  return (1 - OPEN_SLIP) / ((value + LEAST_OHM) * Math.log(settingOf('openFromOhm') / LEAST_OHM));
}

const SOUND = 1 - settingOf('strayReadingShare');
const FORWARD_SHARE = settingOf('forwardDiodeShare');
/** this many sigma off, a normal density is nothing beside a slip */
const OFF = 12;

/** Likelihood of a reading where the winding between the probes has `ohm`. */
export function likeOhms({ value, sigma, peak, slip }: BenchReading, ohm: number): number {
  const z = (value - ohm) / sigma;
  return z < OFF && z > -OFF ? peak * Math.exp(-0.5 * z * z) + slip : slip;
}

/** Likelihood where a supply turns a diode on across `ohm`: anything from about nothing to a share of them, log-uniform. */
export function likeForward({ open, value, sigma, slip }: BenchReading, ohm: number): number {
  if (open) return slip;
  const most = FORWARD_SHARE * ohm;
  const range = Math.log(Math.max(most / LEAST_FORWARD_OHM, Math.E));
  const below = normalTail((value - most) / Math.max(sigma, FORWARD_SIGMA_OHM));
  return SOUND * below / (Math.max(value, FORWARD_SIGMA_OHM) * range) + slip;
}
