import { applyEdit, recordOfDocument, type BenchRecord, type JobDocument, type JobState, type JsonValue } from '../../catalog-schema/index.ts';
import type { Act } from '../client/index.ts';

/** A job as this device has it: the server's state with the acts that wait here on top, those the server refused left out. */
export function layOver(job: JobState, acts: readonly Act[]): JobState {
  const waiting = acts.filter(({ answer }) => answer === undefined);
  if (waiting.length === 0) return job;
  const document = waiting.flatMap(({ edits }) => edits)
    .reduce<{ [key: string]: JsonValue }>((tree, edit) => applyEdit(tree, edit), job.document as unknown as { [key: string]: JsonValue });
  const changedAt = waiting.reduce((latest, { at }) => (at > latest ? at : latest), job.changedAt);
  return { ...job, document: document as unknown as JobDocument, record: recordOfDocument(document) as BenchRecord, changedAt };
}
