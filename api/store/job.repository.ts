import type { Db, Tx } from './database.ts';
import type { JobEditTable, JobTable } from './job.table.ts';

/** One edit as the log holds it; `field`, `value`, `settles` and `heldFor` are JSON. */
export type JobEditRow = Omit<JobEditTable, 'seq' | 'jobId' | 'revision'>;
type PlacedEditRow = JobEditRow & { revision: number };

const EDIT_COLUMNS = ['id', 'field', 'value', 'base', 'author', 'device', 'act', 'settles', 'heldFor', 'held', 'at'] as const;

/** Every job, the one changed last first. */
export function listJobs(db: Db): Promise<JobTable[]> {
  return db.selectFrom('job').selectAll().orderBy('lastSeq', 'desc').execute();
}

export function findJob(db: Db, id: string): Promise<JobTable | undefined> {
  return db.selectFrom('job').selectAll().where('id', '=', id).executeTakeFirst();
}

/** A job's edits in the order in which they count. */
export function listJobEdits(db: Db, jobId: string): Promise<JobEditRow[]> {
  return db.selectFrom('jobEdit').select(EDIT_COLUMNS).where('jobId', '=', jobId).orderBy('revision').execute();
}

/** The edits of a job behind a revision that counted when they arrived, in order. */
export function listCountedEdits(db: Db, jobId: string, after: number): Promise<PlacedEditRow[]> {
  return db.selectFrom('jobEdit').select([...EDIT_COLUMNS, 'revision'])
    .where('jobId', '=', jobId).where('revision', '>', after).where('held', '=', 0).orderBy('revision').execute();
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
  await tx.insertInto('job').values({ ...job, revision: 0, document: '{}', conflicts: '[]', changedAt: job.createdAt, lastSeq: 0 }).execute();
}

/** Appends edits to a job's log behind `revision` and keeps beside them what they add up to. */
export async function appendJobEdits(tx: Tx, job: { id: string; revision: number; document: string; conflicts: string }, edits: readonly JobEditRow[]): Promise<void> {
  for (let start = 0; start < edits.length; start += 100) {
    await tx.insertInto('jobEdit').values(edits.slice(start, start + 100).map((edit, index) => ({
      ...edit, jobId: job.id, revision: job.revision + start + index + 1,
    }))).execute();
  }
  const revision = job.revision + edits.length;
  await tx.updateTable('job').set((eb) => ({
    revision, document: job.document, conflicts: job.conflicts, changedAt: edits.at(-1)!.at,
    lastSeq: eb.selectFrom('jobEdit').select((e) => e.fn.max<number>('seq').as('seq')).where('jobId', '=', job.id),
  })).where('id', '=', job.id).execute();
}
