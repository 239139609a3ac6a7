import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** The catalogue, and jobs as a log of edits that can only grow. */
export const catalogueAndJobs: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('part')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('position', 'integer', (c) => c.notNull())
      .addColumn('json', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();

    await db.schema.createTable('job')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('revision', 'integer', (c) => c.notNull())
      .addColumn('document', 'text', (c) => c.notNull())
      .addColumn('createdAt', 'text', (c) => c.notNull())
      .addColumn('changedAt', 'text', (c) => c.notNull())
      .addColumn('lastSeq', 'integer', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('jobByChange').on('job').column('lastSeq').execute();

    await db.schema.createTable('jobEdit')
      .addColumn('seq', 'integer', (c) => c.primaryKey().autoIncrement())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('jobId', 'text', (c) => c.notNull().references('job.id'))
      .addColumn('revision', 'integer', (c) => c.notNull())
      .addColumn('field', 'text', (c) => c.notNull())
      .addColumn('value', 'text', (c) => c.notNull())
      .addColumn('base', 'integer', (c) => c.notNull())
      .addColumn('author', 'text')
      .addColumn('at', 'text', (c) => c.notNull())
      .addUniqueConstraint('jobEditByRevision', ['jobId', 'revision'])
      .modifyEnd(sql`strict`).execute();
    for (const verb of ['update', 'delete'] as const) {
      await sql`create trigger ${sql.ref(`jobEditRefuses_${verb}`)} before ${sql.raw(verb)} on "jobEdit"
        begin select raise(abort, 'edits of a job are only ever added'); end`.execute(db);
    }
  },
};
