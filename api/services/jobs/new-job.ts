import { createHash } from 'node:crypto';
import { z } from 'zod';
import { fieldsOfNewJob, jobEdit, type JobEdit, type NewJob } from '../../../catalog-schema/index.ts';

/** Edits to append, all or none of them. */
export const editBatch = z.strictObject({ edits: z.array(jobEdit).min(1).max(1_000) });

/** A new job is its first edits: one for each field given. Their ids follow from the job's, so they are the same each time. */
export function editsOfNewJob(job: NewJob, author?: string): JobEdit[] {
  const act = deriveUuid(`${job.id} title`);
  return fieldsOfNewJob(job).map(([field, value]) => ({
    id: deriveUuid(`${job.id} ${field}`), field: [field], value, base: 0, act, at: job.at, ...(author === undefined ? {} : { author }),
  }));
}

/** A UUID of version 8 (RFC 9562) made from a name. */
function deriveUuid(name: string): string {
  const hex = createHash('sha256').update(name).digest('hex');
  const variant = ((Number.parseInt(hex[16]!, 16) & 0b0011) | 0b1000).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
