import { PART_CLASSES, type Part } from '../../../catalog-schema/index.ts';

/** The ohms of all coils of a catalogue, alike ones counted: what the median of a class is taken from. */
export class CoilCensus {
  readonly #counts = new Map<string, number>();

  add(part: Part): void {
    for (const element of part.circuit) {
      if (element.kind !== 'coil' || element.ohmAt20C === undefined) continue;
      const key = `${PART_CLASSES.indexOf(part.partClass)} ${element.nominalV} ${element.ohmAt20C}`;
      this.#counts.set(key, (this.#counts.get(key) ?? 0) + 1);
    }
  }

  /** Four numbers each: class, nominal volts, ohms, how many. */
  finish(): Float64Array {
    const rows = [...this.#counts].map(([key, count]) => [...key.split(' ').map(Number), count]);
    rows.sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]! || a[2]! - b[2]!);
    return Float64Array.from(rows.flat());
  }
}

/** The coils of one class that give their ohms. */
export function coilsOfClass(census: Float64Array, partClass: Part['partClass']): { nominalV: number; ohm: number; count: number }[] {
  const wanted = PART_CLASSES.indexOf(partClass);
  const coils: { nominalV: number; ohm: number; count: number }[] = [];
  for (let at = 0; at < census.length; at += 4) {
    if (census[at] === wanted) coils.push({ nominalV: census[at + 1]!, ohm: census[at + 2]!, count: census[at + 3]! });
  }
  return coils;
}
