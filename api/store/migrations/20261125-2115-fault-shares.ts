import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** How often each fault is found, where the shop says otherwise than the product. */
export const faultShares: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('faultShare')
      .addColumn('fault', 'text', (c) => c.primaryKey().notNull())
      .addColumn('share', 'real', (c) => c.notNull().check(sql`share >= 0`))
      .addColumn('by', 'text')
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
  },
};
