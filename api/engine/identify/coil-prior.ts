import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { settingOf, type SettingName } from '../settings.ts';
import type { CoilClass, FormElement } from './forms.ts';
import { normalDensity, normalise } from './posterior.ts';

const STANDARD_VOLTS = [6, 12, 24, 36, 48];

/** Nominal voltages a coil may have, before its ohms are known: what is marked stands, else most likely the machine's. */
export function voltsPrior(record: BenchRecord): { volts: number; share: number }[] {
  const marked = record.marked?.coilV;
  if (marked !== undefined) return [{ volts: marked, share: 1 }];
  const { nominalV } = record.system;
  const others = STANDARD_VOLTS.filter((volts) => volts !== nominalV);
  const own = settingOf('machineVoltsShare');
  return [{ volts: nominalV, share: own }, ...others.map((volts) => ({ volts, share: (1 - own) / others.length }))].toSorted((a, b) => a.volts - b.volts);
}

/** ln of a class's median coil power and the spread of its logarithm: at a nominal voltage V the mean of ln(ohms at 20 C) is 2 ln V less that. */
export function lnOhmPrior(coilClass: CoilClass, watts: (FormElement & { kind: 'coil' })['watts']): [number, number] {
  const [median, spread] = powerOf(coilClass, watts);
  return [Math.log(settingOf(median)), settingOf(spread)];
}

/** Median power and spread of a coil, by the names of their settings. */
export function powerOf(coilClass: CoilClass, watts: (FormElement & { kind: 'coil' })['watts']): [SettingName, SettingName] {
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
  coils: readonly { ohmAt20C: number; watts: (FormElement & { kind: 'coil' })['watts'] }[],
): { volts: number; share: number }[] {
  const weights = prior.map(({ volts, share }) => coils.reduce((product, { ohmAt20C, watts }) => {
    const [mean, spread] = lnOhmPrior(coilClass, watts);
    return product * normalDensity(Math.log(ohmAt20C), 2 * Math.log(volts) - mean, spread);
  }, share));
  // Ohms beyond every spread underflow: nothing is learnt from them then.
  const shares = weights.every((weight) => weight === 0) ? prior.map(({ share }) => share) : normalise(weights);
  return prior.map(({ volts }, i) => ({ volts, share: shares[i]! }));
}
