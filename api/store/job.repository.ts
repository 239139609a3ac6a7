import type { Db, Tx } from './database.ts';
import type { JobTable } from './job.table.ts';

/** One edit as the log holds it; `field` and `value` are JSON. */
export interface JobEditRow {
  id: string;
  field: string;
  value: string;
  base: number;
  author: string | null;
  at: string;
}

/** Every job, the one changed last first. */
export function listJobs(db: Db): Promise<JobTable[]> {
  return db.selectFrom('job').selectAll().orderBy('lastSeq', 'desc').execute();
}

export function findJob(db: Db, id: string): Promise<JobTable | undefined> {
  return db.selectFrom('job').selectAll().where('id', '=', id).executeTakeFirst();
}

/** A job's edits in the order in which they count. */
export function listJobEdits(db: Db, jobId: string): Promise<JobEditRow[]> {
  return db.selectFrom('jobEdit').select(['id', 'field', 'value', 'base', 'author', 'at'])
    .where('jobId', '=', jobId).orderBy('revision').execute();
}

/** Which of these edits are in the log already, and of which job. */
export async function findJobsOfEdits(db: Db, editIds: readonly string[]): Promise<Map<string, string>> {
  const jobOf = new Map<string, string>();
  for (let start = 0; start < editIds.length; start += 500) {
    const rows = await db.selectFrom('jobEdit').select(['id', 'jobId']).where('id', 'in', editIds.slice(start, start + 500)).execute();
    for (const row of rows) jobOf.set(row.id, row.jobId);
  }
  return jobOf;
}

/** A job with nothing in its log; its first edits are appended in the same transaction. */
export async function insertJob(tx: Tx, job: { id: string; createdAt: string }): Promise<void> {
  await tx.insertInto('job').values({ ...job, revision: 0, document: '{}', changedAt: job.createdAt, lastSeq: 0 }).execute();
}

/** Appends edits to a job's log and keeps beside them what they add up to. */
export async function appendJobEdits(tx: Tx, job: { id: string; revision: number; document: string }, edits: readonly JobEditRow[]): Promise<void> {
  for (let start = 0; start < edits.length; start += 100) {
    await tx.insertInto('jobEdit').values(edits.slice(start, start + 100).map((edit, index) => ({
      ...edit, jobId: job.id, revision: job.revision + start + index + 1,
    }))).execute();
  }
  const revision = job.revision + edits.length;
  await tx.updateTable('job').set((eb) => ({
    revision, document: job.document, changedAt: edits.at(-1)!.at,
    lastSeq: eb.selectFrom('jobEdit').select((e) => e.fn.max<number>('seq').as('seq')).where('jobId', '=', job.id),
  })).where('id', '=', job.id).execute();
}
