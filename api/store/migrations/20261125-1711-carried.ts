import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** What came with a job from another server and means nothing to this one's shelf, orders or catalogue. */
export const carried: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('jobCarried')
      .addColumn('jobId', 'text', (c) => c.primaryKey().notNull().references('job.id'))
      .addColumn('json', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
  },
};
