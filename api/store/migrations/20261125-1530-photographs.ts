import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** Photographs of jobs. The bytes stand last, so that reading about a photograph does not read through them. */
export const photographs: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('photograph')
      .addColumn('jobId', 'text', (c) => c.notNull().references('job.id'))
      .addColumn('hash', 'text', (c) => c.notNull().check(sql`length(hash) = 64`))
      .addColumn('type', 'text', (c) => c.notNull())
      .addColumn('byteCount', 'integer', (c) => c.notNull().check(sql`"byteCount" = length(bytes)`))
      .addColumn('widthPx', 'integer', (c) => c.notNull())
      .addColumn('heightPx', 'integer', (c) => c.notNull())
      .addColumn('at', 'text', (c) => c.notNull())
      .addColumn('bytes', 'blob', (c) => c.notNull())
      .addPrimaryKeyConstraint('photographKey', ['jobId', 'hash'])
      .modifyEnd(sql`strict`).execute();
  },
};
