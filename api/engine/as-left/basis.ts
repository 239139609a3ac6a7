import type { KitItem, Placement, Plan, Verdict } from '../../../catalog-schema/index.ts';

/** What the engine finds now of the chosen part on this record: what a checklist and a sign-off stand on. */
export interface AsLeftBasis {
  readonly partId: string;
  readonly verdict: Verdict;
  /** the plan of the fit; null where nothing is wired, or nothing can be */
  readonly plan: Plan | null;
  /** every plan that is right, fewest changes first */
  readonly plans: readonly Plan[];
  readonly placement: Placement | null;
  /** for the chosen plan, or for the fit's where that is none of the right ones */
  readonly kit: readonly KitItem[];
}
