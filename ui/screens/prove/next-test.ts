import type { ProveAnswer } from '../../../catalog-schema/index.ts';
export type NextTest = ProveAnswer['nextTest'][number];
export function asNextTest(test: NextTest): NextTest { return test; }
export function carriedBy(answer: ProveAnswer): ProveAnswer['carriedBy'] { return answer.carriedBy; }
