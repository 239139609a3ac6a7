import type { CoilElement, Part, PartClass } from '../../../catalog-schema/index.ts';
import { describeClass } from '../part-facts.ts';
import { compareText } from './compare-text.ts';
import { show } from './finding.ts';

/** The median of the coils of a class that give their ohms: those of one nominal voltage, or of all (`nominalV` null). */
export interface CoilMedian {
  readonly partClass: PartClass;
  readonly nominalV: number | null;
  /** Ohm at 20 C of the coils of one voltage; Ohm per volt squared (equal watts) over all voltages */
  readonly median: number;
  readonly count: number;
}

/** One row for each class and voltage, and one for each class; by class, then voltage, the class at large last. */
export function collectCoilMedians(parts: Iterable<Part>): CoilMedian[] {
  const ohms = new Map<PartClass, Map<number, number[]>>();
  for (const part of parts) {
    for (const element of part.circuit) {
      if (element.kind !== 'coil' || element.ohmAt20C === undefined) continue;
      let byVolts = ohms.get(part.partClass);
      if (!byVolts) ohms.set(part.partClass, byVolts = new Map());
      const known = byVolts.get(element.nominalV);
      if (known) known.push(element.ohmAt20C);
      else byVolts.set(element.nominalV, [element.ohmAt20C]);
    }
  }
  return [...ohms].toSorted(([a], [b]) => compareText(a, b)).flatMap(([partClass, byVolts]) => {
    const rows = [...byVolts].toSorted(([a], [b]) => a - b);
    const scaled = rows.flatMap(([nominalV, known]) => known.map((ohm) => ohm / nominalV ** 2));
    return [
      ...rows.map(([nominalV, known]): CoilMedian => ({ partClass, nominalV, median: medianOf(known), count: known.length })),
      { partClass, nominalV: null, median: medianOf(scaled), count: scaled.length },
    ];
  });
}

/**
 * Ohms for a coil that does not give them: the median of the coils of its class and voltage (where its class has none of that voltage, of
 * its class at large, scaled for equal watts). Asks the part for its class alone.
 */
export function createCoilMedian(medians: () => readonly CoilMedian[]): (part: Part, coil: CoilElement) => { ohm: number; source: string } | undefined {
  return ({ partClass }, { nominalV }) => {
    const known = medians().filter((row) => row.partClass === partClass);
    const alike = known.find((row) => row.nominalV === nominalV);
    const used = alike ?? known.find((row) => row.nominalV === null);
    if (!used) return undefined;
    const ohm = alike ? used.median : used.median * nominalV ** 2;
    const volts = alike ? ` of ${show(nominalV)} V` : `, at equal watts for ${show(nominalV)} V`;
    return { ohm, source: `${show(ohm)} Ohm for a coil that does not give it: median of the ${describeClass(partClass)} coils${volts} in the catalogue (${used.count} of them)` };
  };
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
