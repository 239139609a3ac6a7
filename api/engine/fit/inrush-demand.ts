import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { COPPER_CONDUCTIVITY_20C } from '../../../catalog-schema/reference/index.ts';
import { show, type Interval, type Notes } from './finding.ts';

/** The current the contact has to close on, A, and where the figure comes from. */
export interface InrushDemand extends Interval {
  readonly words: string;
}

/**
 * From a clamp reading; else computed from battery, cable and the starter's resistance at standstill: I = U / (battery + cable + starter).
 * Battery: at most (resting - 0.6 x nominal) / CCA, from the definition of the rating (SAE J537), at least half of that when warm.
 * Cable: copper of 58 m/(Ohm mm2) at 20 C (IEC 60028). A resistance that is not given counts as anything from zero up: then only the
 * greatest current is known.
 * @returns undefined without a clamp reading or the starter's resistance
 */
export function findInrushDemand(record: BenchRecord, notes: Notes): InrushDemand | undefined {
  const { inrushA, from } = record.demand ?? {};
  if (inrushA !== undefined) {
    const { low, high } = notes.read(inrushA, 'clamp');
    return { low: Math.max(0, low), high, words: 'measured' };
  }
  if (!from || from.starterOhm === undefined) return undefined;

  const { nominalV } = record.system;
  const resting = from.restingV ?? record.system.lowestRestingV ?? notes.use('fullBatteryOfNominal') * nominalV;
  const starter = typeof from.starterOhm === 'number'
    ? spread(from.starterOhm, notes.use('starterOhmPlusMinus') * from.starterOhm)
    : spread(from.starterOhm.value, from.starterOhm.plusMinus);
  const cableOhm = (from.cable ?? []).reduce((sum, { areaMm2, lengthMm }) => sum + lengthMm / 1000 / (COPPER_CONDUCTIVITY_20C * areaMm2), 0);
  const cable = { low: cableOhm, high: cableOhm * (1 + (from.cable ? notes.use('cableOhmPlus') : 0)) };
  let battery: Interval = { low: 0, high: Number.POSITIVE_INFINITY };
  if (from.batteryCcaA !== undefined) {
    const most = Math.max(0, resting - notes.use('ccaEndOfNominal') * nominalV) / from.batteryCcaA;
    battery = { low: most * notes.use('warmBatteryOhm'), high: most };
  }
  const least = battery.low + cable.low + starter.low;
  const most = battery.high + (from.cable ? cable.high : Number.POSITIVE_INFINITY) + starter.high;
  const missing = [from.batteryCcaA === undefined ? 'battery' : '', from.cable ? '' : 'cable'].filter((word) => word !== '');
  return {
    low: resting / most, high: least > 0 ? resting / least : Number.POSITIVE_INFINITY,
    words: `computed from ${show(resting)} V over battery, cable and starter${missing.length > 0 ? ` (${missing.join(' and ')} not given: the most it can be)` : ''}`,
  };
}

function spread(value: number, plusMinus: number): Interval {
  return { low: Math.max(0, value - plusMinus), high: value + plusMinus };
}
