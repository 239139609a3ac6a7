import type { Generated } from 'kysely';

/** What a job's edits add up to, kept beside them so that reading it does not fold them all; `lastSeq` orders jobs by change. */
export interface JobTable {
  id: string;
  revision: number;
  document: string;
  /** what waits for a choice, as JSON */
  conflicts: string;
  createdAt: string;
  changedAt: string;
  lastSeq: number;
}

/** One edit, in the order in which the server took them in. Rows are only ever added: triggers refuse the rest. */
export interface JobEditTable {
  seq: Generated<number>;
  id: string;
  jobId: string;
  revision: number;
  field: string;
  value: string;
  base: number;
  author: string | null;
  device: string | null;
  act: string | null;
  /** ids of held edits, as JSON */
  settles: string | null;
  /** lines, as JSON */
  heldFor: string | null;
  /** 1: it did not count when it arrived. That never changes: what arrives later cannot change what an edit met. */
  held: number;
  at: string;
}
