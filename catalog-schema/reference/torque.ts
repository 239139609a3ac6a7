import { citeFact, numberOf, type Fact } from './fact.ts';
import torqueFacts from './torque.json' with { type: 'json' };

export interface TorqueAdvice {
  readonly newtonMetres: number;
  /** the band of thread diameters it is for, in the standard's words */
  readonly band: string;
  readonly source: string;
  /** to be shown with the figure, always */
  readonly label: string;
}

interface Band { readonly aboveMm: number; readonly toMm: number; readonly fact: Fact }

/** IEC 60947-1 Table 4, column III: screws and nuts tightened other than by screwdriver (a hexagon nut on a stud). */
const COLUMN_III: readonly Band[] = buildBands();

function buildBands(): Band[] {
  const facts: readonly Fact[] = torqueFacts;
  return facts.flatMap((fact) => {
    if (fact.quantity !== 'test torque column III') return [];
    const match = /^thread dia (?:<=|> ([\d.]+) to) ([\d.]+) mm/.exec(fact.designation);
    if (!match) throw new Error(`reference: no diameters in ${JSON.stringify(fact.designation)}`);
    return [{ aboveMm: Number(match[1] ?? 0), toMm: Number(match[2]), fact }];
  });
}

/**
 * The torque to fall back on for a nut on a stud where the maker gives none.
 * It is the torque at which a terminal's strength is verified, not a maker's advice, and the label says so.
 * @param majorMm major diameter of the thread, mm
 * @returns undefined above 20 mm or for what is no diameter
 */
export function torqueFor(majorMm: number): TorqueAdvice | undefined {
  const band = COLUMN_III.find((each) => majorMm > each.aboveMm && majorMm <= each.toMm);
  if (!band) return undefined;
  const source = `${citeFact(band.fact)}, column III`;
  return {
    newtonMetres: numberOf(band.fact), band: band.fact.designation, source,
    label: `the maker's torque comes first; ${numberOf(band.fact)} N·m is the test torque of ${source}, used only where the maker gives none`,
  };
}
