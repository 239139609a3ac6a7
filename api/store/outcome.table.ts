import type { Generated } from 'kysely';

/** What became of a part fitted on a job, in the order in which the server took it in. Rows are only ever added: triggers refuse the rest. */
export interface OutcomeTable {
  seq: Generated<number>;
  id: string;
  jobId: string;
  partId: string;
  machineKind: string | null;
  result: 'held' | 'came-back';
  reason: string | null;
  words: string | null;
  by: string | null;
  at: string;
}
