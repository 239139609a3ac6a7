import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** Which device and act an edit belongs to, what it decides, and whether it was held when it arrived; a job's open conflicts beside its document. */
export const heldEdits: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.alterTable('job').addColumn('conflicts', 'text', (c) => c.notNull().defaultTo('[]')).execute();
    for (const column of ['device', 'act', 'settles', 'heldFor']) {
      await db.schema.alterTable('jobEdit').addColumn(column, 'text').execute();
    }
    await db.schema.alterTable('jobEdit').addColumn('held', 'integer', (c) => c.notNull().defaultTo(0).check(sql`held in (0, 1)`)).execute();
  },
};
