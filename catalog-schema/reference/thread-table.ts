import { findFact, groupFacts, numberOf } from './fact.ts';
import hexagonFacts from './hexagons.json' with { type: 'json' };
import threadFacts from './threads.json' with { type: 'json' };

export type ThreadSeries = 'ISO metric coarse' | 'ISO metric fine' | 'UNC' | 'UNF';

/** A hexagon that goes with a thread size. Standards disagree at M10 and M12, so a thread has a list of them. */
export interface AcrossFlats {
  /** nominal and largest width, mm */
  readonly mm: number;
  /** smallest width, mm, where the standard was at hand */
  readonly minMm?: number;
  readonly on: 'nut' | 'head' | 'nut or head';
  /** 'hex nut style 1', 'hex flange nut' … */
  readonly what: string;
  readonly source: string;
}

export interface ThreadRow {
  /** 'M8x1.25', '1/4-20', '#10-32' */
  readonly name: string;
  readonly series: ThreadSeries;
  /** nominal major diameter, mm */
  readonly majorMm: number;
  readonly pitchMm: number;
  /** limits of the external thread's major diameter, mm: ISO 965-1 6g, ASME B1.1 2A */
  readonly majorMinMm: number;
  readonly majorMaxMm: number;
  /** size without its pitch: 'M8', '1/4', '#10' */
  readonly size: string;
  readonly acrossFlatsMm: readonly AcrossFlats[];
  readonly source: string;
}

/** Every thread of the table: ISO metric M3 to M12, coarse then fine; Unified #4 to 1/2 in, coarse then fine. */
export const THREADS: readonly ThreadRow[] = buildThreads();

function buildThreads(): ThreadRow[] {
  const hexagons = groupHexagons();
  const rows: ThreadRow[] = [];
  for (const [designation, own] of groupFacts(threadFacts)) {
    const major = own.find((fact) => fact.quantity === 'nominal_major_diameter');
    if (!major) continue;
    const of = (quantity: string): number => numberOf(findFact(own, quantity));
    const metric = designation.startsWith('M');
    if (metric) {
      const size = `M${of('nominal_major_diameter')}`;
      const pitchMm = of('pitch');
      rows.push({
        name: `${size}x${pitchMm}`,
        series: designation.includes('x') ? 'ISO metric fine' : 'ISO metric coarse',
        majorMm: of('nominal_major_diameter'), pitchMm,
        majorMinMm: of('major_dia_min_6g'), majorMaxMm: of('major_dia_max_6g'),
        size, acrossFlatsMm: hexagonsOf(hexagons, size, `${size}x${pitchMm}`), source: `${major.source}, limits ${findFact(own, 'major_dia_min_6g').source} 6g`,
      });
    } else {
      const [name = '', series] = designation.split(' ');
      const size = name.slice(0, name.indexOf('-'));
      rows.push({
        name, series: series === 'UNF' ? 'UNF' : 'UNC',
        // The file rounds to a micrometre; the inch sizes themselves are exact.
        majorMm: unifiedMajorMm(size), pitchMm: 25.4 / of('tpi'),
        majorMinMm: of('major_dia_min_2A'), majorMaxMm: of('major_dia_max_2A'),
        size, acrossFlatsMm: hexagonsOf(hexagons, size, name), source: `${major.source}, limits 2A`,
      });
    }
  }
  return rows;
}

/**
 * Major diameter in mm of a Unified size: '1/4', '5/16', or a number size '#10'.
 * Number sizes are 0.060 in + 0.013 in a number (ASME B1.1).
 */
export function unifiedMajorMm(size: string): number {
  if (size.startsWith('#')) return roundMm((0.06 + 0.013 * Number(size.slice(1))) * 25.4);
  const [over = '', under = '1'] = size.split('/');
  return roundMm((Number(over) / Number(under)) * 25.4);
}

/** Takes out the last bits of binary arithmetic; a micrometre in a thousand is beyond any gauge. */
function roundMm(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}

function groupHexagons(): Map<string, AcrossFlats[]> {
  const grouped = new Map<string, AcrossFlats[]>();
  for (const [designation, own] of groupFacts(hexagonFacts)) {
    const space = designation.indexOf(' ');
    const size = designation.slice(0, space);
    const what = designation.slice(space + 1);
    const widest = findFact(own, 'across_flats_nom(max)');
    const least = own.find((fact) => fact.quantity === 'across_flats_min');
    const hexagon: AcrossFlats = {
      mm: numberOf(widest), ...(least && { minMm: numberOf(least) }),
      on: what.includes('bolt/nut') ? 'nut or head' : what.includes('nut') ? 'nut' : 'head', what, source: widest.source,
    };
    grouped.set(size, [...(grouped.get(size) ?? []), hexagon]);
  }
  return grouped;
}

/** Hexagons listed for the size at large, and those listed for this pitch alone. */
function hexagonsOf(grouped: ReadonlyMap<string, AcrossFlats[]>, size: string, name: string): AcrossFlats[] {
  return [...(grouped.get(size) ?? []), ...(grouped.get(name) ?? [])];
}
