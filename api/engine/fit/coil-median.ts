import type { Catalogue, CoilElement, Part } from '../../../catalog-schema/index.ts';
import { show } from './finding.ts';
import { describeClass } from './part-facts.ts';

/**
 * Ohms for a coil that does not give them: the median of the coils of its class and voltage in the catalogue (where its class has none
 * of that voltage, of its class at large, scaled for equal watts).
 */
export function createCoilMedian(catalogue: Catalogue): (part: Part, coil: CoilElement) => { ohm: number; source: string } | undefined {
  let byClass: Map<string, { nominalV: number; ohm: number }[]> | undefined;
  return (part, coil) => {
    byClass ??= collectCoils(catalogue);
    const known = byClass.get(part.partClass) ?? [];
    const alike = known.filter(({ nominalV }) => nominalV === coil.nominalV);
    const used = alike.length > 0 ? alike : known;
    if (used.length === 0) return undefined;
    const ohm = medianOf(used.map((each) => each.ohm * (coil.nominalV / each.nominalV) ** 2));
    const volts = alike.length > 0 ? ` of ${show(coil.nominalV)} V` : `, at equal watts for ${show(coil.nominalV)} V`;
    return { ohm, source: `${show(ohm)} Ohm for a coil that does not give it: median of the ${describeClass(part.partClass)} coils${volts} in the catalogue (${used.length} of them)` };
  };
}

function collectCoils(catalogue: Catalogue): Map<string, { nominalV: number; ohm: number }[]> {
  const byClass = new Map<string, { nominalV: number; ohm: number }[]>();
  for (const part of catalogue) {
    for (const element of part.circuit) {
      if (element.kind !== 'coil' || element.ohmAt20C === undefined) continue;
      const coil = { nominalV: element.nominalV, ohm: element.ohmAt20C };
      const known = byClass.get(part.partClass);
      if (known) known.push(coil);
      else byClass.set(part.partClass, [coil]);
    }
  }
  return byClass;
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
