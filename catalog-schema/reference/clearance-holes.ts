import clearanceFacts from './clearance-holes.json' with { type: 'json' };
import { citeFact, numberOf, type Fact } from './fact.ts';
import { unifiedMajorMm } from './thread-table.ts';

export type ClearanceSeries = 'close' | 'normal' | 'loose';

export interface ClearanceRow {
  /** 'M6', '1/4', '#10' */
  readonly bolt: string;
  readonly majorMm: number;
  readonly holeMm: Readonly<Record<ClearanceSeries, number>>;
  readonly source: string;
}

/** Clearance holes by bolt, thinnest bolt first: ISO 273 (fine, medium, coarse) and ASME B18.2.8 (close, normal, loose). */
export const CLEARANCE_HOLES: readonly ClearanceRow[] = buildRows();

function buildRows(): ClearanceRow[] {
  const facts: readonly Fact[] = clearanceFacts;
  const millimetres = facts.filter((fact) => fact.unit === 'mm');
  const bolts = [...new Set(millimetres.map((fact) => fact.designation))];
  return bolts.map((bolt) => {
    const of = (series: ClearanceSeries): Fact => {
      const found = millimetres.find((fact) => fact.designation === bolt && fact.quantity.startsWith(`clearance_hole_${series}`));
      if (!found) throw new Error(`reference: no ${series} clearance hole for ${bolt}`);
      return found;
    };
    return {
      bolt, majorMm: bolt.startsWith('M') ? Number(bolt.slice(1)) : unifiedMajorMm(bolt),
      holeMm: { close: numberOf(of('close')), normal: numberOf(of('normal')), loose: numberOf(of('loose')) }, source: citeFact(of('normal')),
    };
  }).toSorted((a, b) => a.majorMm - b.majorMm);
}

/**
 * The hole to drill for a bolt, mm.
 * @param bolt its size ('M6', '1/4', '#10', a thread name such as 'M6x1' or '#10-32'), or its major diameter in mm: then the hole of the
 *   thinnest standard bolt that is as thick, so a diameter of 6.2 takes the hole of 1/4 in.
 * @returns undefined for a bolt thicker than the tables (12.7 mm) or a name they do not hold
 */
export function clearanceHoleMm(bolt: string | number, series: ClearanceSeries = 'normal'): number | undefined {
  return findClearance(bolt)?.holeMm[series];
}

/** The row `clearanceHoleMm` reads, with its source. */
export function findClearance(bolt: string | number): ClearanceRow | undefined {
  if (typeof bolt === 'number') return bolt > 0 ? CLEARANCE_HOLES.find((row) => row.majorMm >= bolt - 0.01) : undefined;
  const size = bolt.startsWith('M') ? bolt.replace(/x.*$/, '') : bolt.replace(/-.*$/, '');
  return CLEARANCE_HOLES.find((row) => row.bolt === size);
}
