import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { settingOf, type SettingName } from '../settings.ts';
import type { CoilClass, FormElement } from './forms.ts';
import { heavyDensity, normalise } from './posterior.ts';

/** Which coil of a part: its only one, or one of a shift solenoid's two. */
export type Winding = (FormElement & { kind: 'coil' })['watts'];

/** Nominal voltages that coils are made for. */
export const STANDARD_VOLTS: readonly number[] = [6, 12, 24, 36, 48];

/** Nominal voltages a coil may have, before its ohms are known: what is marked stands, else most likely the machine's. */
export function voltsPrior(record: BenchRecord): { volts: number; share: number }[] {
  const marked = record.marked?.coilV;
  return marked === undefined ? unmarkedVolts(record) : [{ volts: marked, share: 1 }];
}

/** The same where readings are weighed: a mark may be wrong, so that one which denies the ohms does not turn a good reading into a slip. */
export function voltsToWeigh(record: BenchRecord): { volts: number; share: number }[] {
  const marked = record.marked?.coilV;
  if (marked === undefined) return unmarkedVolts(record);
  const wrong = settingOf('wrongMarkShare');
  const others = unmarkedVolts(record).filter(({ volts }) => volts !== marked);
  const total = others.reduce((sum, { share }) => sum + share, 0);
  return [{ volts: marked, share: 1 - wrong }, ...others.map(({ volts, share }) => ({ volts, share: wrong * share / total }))].toSorted((a, b) => a.volts - b.volts);
}

function unmarkedVolts({ system: { nominalV } }: BenchRecord): { volts: number; share: number }[] {
  const others = STANDARD_VOLTS.filter((volts) => volts !== nominalV);
  const own = settingOf('machineVoltsShare');
  return [{ volts: nominalV, share: own }, ...others.map((volts) => ({ volts, share: (1 - own) / others.length }))].toSorted((a, b) => a.volts - b.volts);
}

/**
 * Mean and spread of ln(ohms at 20 C) of a coil of `nominalV`: 2 ln V less ln of the class's median power. They go with `heavyDensity`:
 * median and spread are themselves but rules of thumb, and a coil far from its class must not cost more than a part that is broken
 * in just the way that another class would need.
 */
export function lnOhmsOf(coilClass: CoilClass, watts: Winding, nominalV: number): { mean: number; spread: number } {
  const [median, spread] = powerOf(coilClass, watts);
  return { mean: 2 * Math.log(nominalV) - Math.log(settingOf(median)), spread: settingOf(spread) };
}

/** Median power and spread of a coil, by the names of their settings. */
export function powerOf(coilClass: CoilClass, watts: Winding): [SettingName, SettingName] {
  if (watts === 'pull-in') return ['pullInWindingWatts', 'windingWattsSpread'];
  if (watts === 'hold-in') return ['holdInWindingWatts', 'windingWattsSpread'];
  switch (coilClass) {
    case 'start-relay': return ['startRelayWatts', 'coilWattsSpread'];
    case 'contactor': return ['contactorWatts', 'coilWattsSpread'];
    case 'plug-in-relay': return ['plugInRelayWatts', 'coilWattsSpread'];
    case 'shift-solenoid': return ['holdInWindingWatts', 'windingWattsSpread'];
    default: throw new TypeError(`no coil power for ${coilClass satisfies never}`);
  }
}

/** How likely each nominal voltage is, given the ohms at 20 C of the coils of one part. */
export function voltsGivenOhms(
  prior: readonly { volts: number; share: number }[], coilClass: CoilClass,
  coils: readonly { ohmAt20C: number; watts: Winding }[],
): { volts: number; share: number }[] {
  const weights = prior.map(({ volts, share }) => coils.reduce((product, { ohmAt20C, watts }) => {
    const { mean, spread } = lnOhmsOf(coilClass, watts, volts);
    return product * heavyDensity(Math.log(ohmAt20C), mean, spread);
  }, share));
  // Ohms beyond every spread underflow: nothing is learnt from them then.
  const shares = weights.every((weight) => weight === 0) ? prior.map(({ share }) => share) : normalise(weights);
  return prior.map(({ volts }, i) => ({ volts, share: shares[i]! }));
}
