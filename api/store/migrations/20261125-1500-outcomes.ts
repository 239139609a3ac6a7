import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** What became of fitted parts, as a log that can only grow. */
export const outcomes: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('outcome')
      .addColumn('seq', 'integer', (c) => c.primaryKey().autoIncrement())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('jobId', 'text', (c) => c.notNull().references('job.id'))
      .addColumn('partId', 'text', (c) => c.notNull().references('part.id'))
      .addColumn('machineKind', 'text')
      .addColumn('result', 'text', (c) => c.notNull().check(sql`result in ('held', 'came-back')`))
      .addColumn('reason', 'text')
      .addColumn('words', 'text')
      .addColumn('by', 'text')
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('outcomeByJob').on('outcome').columns(['jobId', 'partId']).execute();
    for (const verb of ['update', 'delete'] as const) {
      await sql`create trigger ${sql.ref(`outcomeRefuses_${verb}`)} before ${sql.raw(verb)} on "outcome"
        begin select raise(abort, 'outcomes are only ever added'); end`.execute(db);
    }
  },
};
