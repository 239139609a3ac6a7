import type { Part } from '../part.ts';
import type { Offer, ShelfEntry, Supplier } from '../need.ts';

/** What a lint looks at: parts that each read well, and the shop's stock where there is one. */
export interface LintData {
  readonly parts: readonly Part[];
  readonly shop?: { readonly shelf: readonly ShelfEntry[]; readonly suppliers: readonly Supplier[]; readonly offers: readonly Offer[] };
}

export interface LintFault {
  readonly rule: string;
  /** the part's id, or where in the shop: 'offers[3]' */
  readonly where: string;
  /** what is wrong, in one line */
  readonly words: string;
}

/** One thing that data can read well and still have wrong. */
export interface LintRule {
  readonly name: string;
  readonly description: string;
  /** Finds what breaks the rule; `name` is added by the caller. */
  check(data: LintData): Omit<LintFault, 'rule'>[];
}
