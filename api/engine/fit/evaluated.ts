import type { Fit, Part } from '../../../catalog-schema/index.ts';
import type { PartFacts } from '../part-facts.ts';
import type { CostInMinor } from './expected-cost.ts';
import type { Judged, Notes } from './finding.ts';
import type { LearnedPart } from './learned.ts';
import type { OrderKey } from './order-key.ts';

/** One part with all that was found out about it. */
export interface Evaluated {
  readonly fit: Fit;
  readonly part: Part;
  readonly facts: PartFacts;
  readonly findings: readonly Judged[];
  readonly notes: Notes;
  /** product over what is independent and what nobody wrote down, before what was learned; not rounded */
  readonly chance: number;
  readonly learned: LearnedPart | undefined;
  readonly cost: CostInMinor | undefined;
  readonly key: OrderKey;
}
