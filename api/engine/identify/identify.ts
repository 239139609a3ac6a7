import type { BenchRecord, IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { findCoils } from './find-coils.ts';
import { findTabs } from './find-tabs.ts';
import { findThreads } from './find-threads.ts';
import type { Said } from './said.ts';

/**
 * What a bench record says for certain about the removed part: marked values, threads by name or by the table's limits, tabs by size,
 * coils by ohms. What would need inference (how likely each thread is, which circuit it is) is left out and said so.
 * Candidates that cannot be told apart share the probability equally.
 */
export function identify(record: BenchRecord): IdentifyAnswer {
  const said: Said = { cautions: new Set(), assumptions: new Set(), conflicts: [], open: [] };
  const threads = findThreads(record, said);
  const tabs = findTabs(record, said);
  const coils = findCoils(record, said);
  said.assumptions.add('circuits are not inferred yet: roles of the terminals come from the wires and readings alone');
  return {
    coils, threads, tabs, circuits: [], conflicts: said.conflicts,
    measureNext: said.open.toSorted((a, b) => b.worth - a.worth || (a.what < b.what ? -1 : 1)), worthUnit: 'bit',
    cautions: [...said.cautions], assumptions: [...said.assumptions],
  };
}
