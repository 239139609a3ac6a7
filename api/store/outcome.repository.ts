import { sql, type Selectable } from 'kysely';
import type { Db, Tx } from './database.ts';
import type { OutcomeTable } from './outcome.table.ts';

export type OutcomeRow = Omit<Selectable<OutcomeTable>, 'seq'>;

const COLUMNS = ['id', 'jobId', 'partId', 'machineKind', 'result', 'reason', 'words', 'by', 'at'] as const;

/** Outcomes in the order in which they were taken in, or those of one job. */
export function listOutcomes(db: Db, jobId?: string): Promise<OutcomeRow[]> {
  return db.selectFrom('outcome').select(COLUMNS)
    .$if(jobId !== undefined, (query) => query.where('jobId', '=', jobId!))
    .orderBy('seq').execute();
}

/** The last outcome of each part on each job: earlier ones were overtaken by it. */
export function listLastOutcomes(db: Db): Promise<OutcomeRow[]> {
  return db.selectFrom('outcome').select(COLUMNS)
    .where('seq', 'in', (query) => query.selectFrom('outcome').select(({ fn }) => fn.max('seq').as('seq')).groupBy(['jobId', 'partId']))
    .orderBy('seq').execute();
}

/** The last outcome of each part on each job, with the numbers that were marked on the part it took the place of: a list as JSON, null where none was. */
export function listLastOutcomesWithMarks(db: Db): Promise<(OutcomeRow & { marked: string | null })[]> {
  return db.selectFrom('outcome').innerJoin('job', 'job.id', 'outcome.jobId')
    .select(COLUMNS.map((column) => `outcome.${column}` as const))
    .select(sql<string | null>`json_extract(job.document, '$.record.marked.numbers')`.as('marked'))
    .where('seq', 'in', (query) => query.selectFrom('outcome').select(({ fn }) => fn.max('seq').as('seq')).groupBy(['jobId', 'partId']))
    .orderBy('seq').execute();
}

export function findOutcome(db: Db, id: string): Promise<OutcomeRow | undefined> {
  return db.selectFrom('outcome').select(COLUMNS).where('id', '=', id).executeTakeFirst();
}

export async function insertOutcome(tx: Tx, row: OutcomeRow): Promise<void> {
  await tx.insertInto('outcome').values(row).execute();
}
