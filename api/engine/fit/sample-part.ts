import type { Part } from '../../../catalog-schema/index.ts';
import { factsOf, type PartFacts } from '../part-facts.ts';

/** A part that the comparison of others asks about, with its facts. */
export interface SamplePart { readonly part: Part; readonly facts: PartFacts }

/** A sample is asked about for every record: its facts are found once. */
export function withFacts(parts: readonly Part[]): SamplePart[] {
  return parts.map((part) => ({ part, facts: factsOf(part) }));
}
