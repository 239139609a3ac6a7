import { createHash } from 'node:crypto';
import { z } from 'zod';
import {
  benchRecordSchema, documentRecordOf, jobDocument, jobEdit, type JobEdit, type JsonValue,
} from '../../../catalog-schema/index.ts';

/** What a new job begins with. The id comes from the device, so that sending it twice makes one job. */
export const newJob = z.strictObject({
  id: z.uuid(),
  title: jobDocument.shape.title, machine: jobDocument.shape.machine, customer: jobDocument.shape.customer,
  record: benchRecordSchema,
  at: z.iso.datetime(),
});
export type NewJob = z.infer<typeof newJob>;

/** Edits to append, all or none of them. */
export const editBatch = z.strictObject({ edits: z.array(jobEdit).min(1).max(1_000) });

/** A new job is its first edits: one for each field given. Their ids follow from the job's, so they are the same each time. */
export function editsOfNewJob(job: NewJob): JobEdit[] {
  const fields: [string, JsonValue | undefined][] = [
    ['title', job.title], ['machine', job.machine], ['customer', job.customer], ['record', documentRecordOf(job.record)],
  ];
  return fields.filter((entry): entry is [string, JsonValue] => entry[1] !== undefined)
    .map(([field, value], base) => ({ id: deriveUuid(`${job.id} ${field}`), field: [field], value, base, at: job.at }));
}

/** A UUID of version 8 (RFC 9562) made from a name. */
function deriveUuid(name: string): string {
  const hex = createHash('sha256').update(name).digest('hex');
  const variant = ((Number.parseInt(hex[16]!, 16) & 0b0011) | 0b1000).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
