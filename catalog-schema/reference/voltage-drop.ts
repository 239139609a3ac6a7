import { citeFact, type Fact } from './fact.ts';
import dropFacts from './voltage-drop.json' with { type: 'json' };

export interface VoltageDropLimit {
  /** between which points, in words */
  readonly where: string;
  /** V at cranking current (not at stall); undefined where the figure is no plain number: see `limit` */
  readonly maxV: number | undefined;
  /** the figure as published */
  readonly limit: string;
  /** whose yardstick: they disagree, so an answer names the one it applied */
  readonly source: string;
  readonly confidence: string;
  readonly note: string;
}

/** Customary greatest voltage drops while cranking. */
export const VOLTAGE_DROP_LIMITS: readonly VoltageDropLimit[] = buildLimits();

function buildLimits(): VoltageDropLimit[] {
  const facts: readonly Fact[] = dropFacts;
  return facts.filter((fact) => fact.unit === 'V' && fact.quantity !== 'min').map((fact) => ({
    where: fact.designation, maxV: typeof fact.value === 'number' ? fact.value : undefined, limit: `${fact.value} ${fact.unit}`,
    source: citeFact(fact), confidence: fact.confidence, note: fact.note,
  }));
}
