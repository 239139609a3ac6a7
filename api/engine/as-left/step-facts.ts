import type { BenchRecord, KitItem, Part, Placement, Plan } from '../../../catalog-schema/index.ts';

/** What the checklist is made from. `placement` and `kit` are those of the chosen fit, where it is known. */
export interface StepFacts {
  readonly record: BenchRecord;
  readonly plan: Plan | null;
  readonly part: Part;
  readonly kit: readonly KitItem[];
  readonly placement: Placement | null;
}
