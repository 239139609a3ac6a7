import { z } from 'zod';
import { benchRecordSchema } from '../bench-record.ts';
import { documentRecordOf, jobDocument, type JobState } from './job-document.ts';
import type { JsonValue } from './job-edit.ts';
import { stateOfJob } from './job-log.ts';

/** What a new job begins with. The id comes from the device, so that sending it twice makes one job. */
export const newJob = z.strictObject({
  id: z.uuid(),
  title: jobDocument.shape.title, machine: jobDocument.shape.machine, customer: jobDocument.shape.customer,
  record: benchRecordSchema,
  /** what was seen of the fault so far, each under its key (`keyOfObservation`) */
  prove: jobDocument.shape.prove,
  at: z.iso.datetime(),
});
export type NewJob = z.infer<typeof newJob>;

/** The fields a new job is written into, in the order of its first edits: one edit for each field given. */
export function fieldsOfNewJob(job: NewJob): [field: string, value: JsonValue][] {
  const fields: [string, JsonValue | undefined][] = [
    ['title', job.title], ['machine', job.machine], ['customer', job.customer], ['record', documentRecordOf(job.record)],
    ['prove', job.prove as JsonValue | undefined],
  ];
  return fields.filter((entry): entry is [string, JsonValue] => entry[1] !== undefined);
}

/** The job as the server will answer it once it has been begun there: what a device shows of it until then. */
export function stateOfNewJob(job: NewJob): JobState {
  const fields = fieldsOfNewJob(job);
  return stateOfJob({ id: job.id, createdAt: job.at, changedAt: job.at }, { tree: Object.fromEntries(fields), revision: fields.length, conflicts: [] });
}
