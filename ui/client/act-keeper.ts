import type { JobEdit, JobState } from '../../catalog-schema/index.ts';
import type { KeptAnswer, Reach } from './device.ts';
import type { FieldChange } from './work-sheet.ts';

/** One act of a person on a job, as it waits to be sent. Its first edit's id names it. */
export interface Act {
  readonly jobId: string;
  readonly edits: readonly JobEdit[];
  /** what would take it back */
  readonly inverse: readonly FieldChange[];
  readonly at: string;
  /** the server's no, until a person has dropped the act or sent it again */
  readonly answer?: KeptAnswer;
}

/** Keeps acts until the server has them, and what the server answered; ui/offline makes it. */
export interface ActKeeper {
  /** this device's id, a UUID: the same as long as its store lasts */
  readonly device: string;
  readonly reach: Reach;
  /** The newest state of a job known here, and the acts on it in the order they were made. */
  read(jobId: string): Promise<{ state: JobState | undefined; acts: readonly Act[] }>;
  /** Keeps an act and sends it. Answers, once that is certain, whether it outlives the page. */
  keep(act: Act): Promise<'kept' | 'in-memory'>;
  /** Takes an act that was answered with a no off this device; `instead` is kept in its place in the same breath. */
  replace(jobId: string, actId: string, instead?: Act): Promise<void>;
  /** Tries now to send what waits. */
  sendNow(): void;
  /** Calls `hear` when what `read` answers for this job, or `reach`, may have changed; returns what ends it. */
  follow(jobId: string, hear: () => void): () => void;
}

/** The name of an act: the id of its first edit. @throws where there is no edit */
export function actIdOf({ edits }: Pick<Act, 'edits'>): string {
  const first = edits[0];
  if (first === undefined) throw new Error('an act has at least one edit');
  return first.id;
}
