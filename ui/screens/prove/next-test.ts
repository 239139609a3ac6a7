import type { CrankFault, ProveAnswer } from '../../../catalog-schema/index.ts';
/** A test with what the answer may say beside it. */
export type NextTest = ProveAnswer['nextTest'][number] & {
  readonly how: readonly string[]; readonly cautions: readonly string[]; readonly practice: string | null
  readonly outcomes: readonly { readonly reads: string; readonly chance: number; readonly leaves: readonly { readonly fault: CrankFault; readonly probability: number }[] }[]
};
export function asNextTest(test: ProveAnswer['nextTest'][number]): NextTest { return { how: [], cautions: [], practice: null, outcomes: [], ...test } as NextTest; }
export function carriedBy(answer: ProveAnswer): readonly { path: string }[] { return (answer as { carriedBy?: { path: string }[] }).carriedBy ?? []; }
