import { circuitKeyOf, createRewirer, facesKeyOf, type RewireOptions } from '../../../api/engine/rewire/index.ts';
import type { Part } from '../../../catalog-schema/index.ts';
import { generateCase } from './case-generator.ts';
import { drawNearTwins } from './near-twins.ts';

export interface MemoryComparison {
  /** one line a difference between a shared rewirer's answer and a fresh one's */
  readonly differences: string[];
  readonly parts: number;
  /** distinct circuits among them */
  readonly circuits: number;
}

const TWINS = 8;
const OPTIONS: RewireOptions = {
  findCoilOhm: (part, coil) => ({ ohm: (part.partClass === 'contactor' ? 12 : 4) * (coil.nominalV / 12) ** 2, source: `median of ${part.partClass}` }),
};

/** Asks one rewirer about all near twins of a seed, then a fresh one about each. */
export function compareMemory(seed: number): MemoryComparison {
  const { record } = generateCase(seed);
  const parts = drawNearTwins(seed, TWINS);
  const shared = createRewirer(record, OPTIONS);
  const differences: string[] = [];
  const byKeys = new Map<string, { part: Part; text: string }>();
  for (const part of parts) {
    const fresh = createRewirer(record, OPTIONS);
    const differ = (what: string, found: unknown, want: unknown): void => {
      if (JSON.stringify(found) !== JSON.stringify(want)) differences.push(`${what} of ${part.id}: found ${JSON.stringify(found)}, want ${JSON.stringify(want)}`);
    };
    const first = createRewirer(record, OPTIONS).findFirstPlan(part);
    differ('isRefused', shared.isRefused(part), fresh.isRefused(part));
    differ('first plan', shared.findFirstPlan(part), first);
    differ('answer', shared.rewire(part), createRewirer(record, OPTIONS).rewire(part));
    // What an index may remember by the two keys: all but what names a coil.
    const keys = `${circuitKeyOf(part)} ${facesKeyOf(part)}`;
    const { plan, rightBothWays, leansOn, complete, judged, interlock, polarity, refusals } = first;
    const text = JSON.stringify([plan && { ...plan, bareTerminals: plan.bareTerminals.toSorted() }, rightBothWays, leansOn, complete, judged, interlock.outcome, polarity?.outcome, refusals.map(({ code }) => code)]);
    const known = byKeys.get(keys);
    if (known === undefined) byKeys.set(keys, { part, text });
    else differ(`by keys, against ${known.part.id}`, text, known.text);
  }
  return { differences, parts: parts.length, circuits: new Set(parts.map(circuitKeyOf)).size };
}
