import { citeFact, findFact, groupFacts, numberOf, type Fact } from './fact.ts';
import terminalFacts from './terminals.json' with { type: 'json' };
import { THREADS } from './thread-table.ts';

export interface TabRow {
  /** '6.3x0.8' */
  readonly name: string;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly widthMinMm: number;
  readonly widthMaxMm: number;
  readonly thicknessMinMm: number;
  readonly thicknessMaxMm: number;
  /** whose sizes, and whose limits */
  readonly source: string;
  readonly limitsSource: string;
}

/** Standard flat tabs, narrow to wide. */
export const TABS: readonly TabRow[] = buildTabs();

export interface RingHole {
  /** the stud as a terminal's label names it: 'M6', '5/16', '#10' */
  readonly stud: string;
  /** nominal major diameter of that stud, mm */
  readonly majorMm: number;
  readonly holeMm: number;
  /** which kind of terminal: pressed sheet, compression lug, US practice */
  readonly kind: string;
  readonly source: string;
}

/** Holes of ring terminals and lugs for each stud; several kinds for one stud. */
export const RING_HOLES: readonly RingHole[] = buildRingHoles();

function buildTabs(): TabRow[] {
  return [...groupFacts(terminalFacts)].flatMap(([designation, own]) => {
    const match = /^tab ([\d.]+)x([\d.]+)$/.exec(designation);
    if (!match) return [];
    const [widthMaxMm, widthMinMm] = readPair(findFact(own, 'tab width max/min'));
    const [thicknessMaxMm, thicknessMinMm] = readPair(findFact(own, 'tab thickness max/min'));
    return [{
      name: `${match[1]}x${match[2]}`, widthMm: Number(match[1]), thicknessMm: Number(match[2]),
      widthMinMm, widthMaxMm, thicknessMinMm, thicknessMaxMm,
      source: citeFact(findFact(own, 'width x thickness')), limitsSource: citeFact(findFact(own, 'tab width max/min')),
    }];
  });
}

function buildRingHoles(): RingHole[] {
  const facts: readonly Fact[] = terminalFacts;
  return facts.flatMap((fact) => {
    const stud = /^stud (\S+)$/.exec(fact.designation)?.[1];
    if (stud === undefined || fact.quantity.startsWith('plain washer')) return [];
    const majorMm = THREADS.find((row) => row.size === stud)?.majorMm;
    if (majorMm === undefined) throw new Error(`reference: no thread for stud ${stud}`);
    return [{
      stud, majorMm, holeMm: fact.unit === 'in' ? Math.round(numberOf(fact) * 25.4 * 1000) / 1000 : numberOf(fact),
      kind: fact.quantity, source: citeFact(fact),
    }];
  });
}

function readPair(fact: Fact): [number, number] {
  const [first, second] = String(fact.value).split('/').map(Number);
  return [first ?? Number.NaN, second ?? Number.NaN];
}
