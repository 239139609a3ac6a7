import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** Who may use the server from the network, who is signed in where, and how often somebody guessed. */
export const people: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('person')
      .addColumn('id', 'text', (c) => c.primaryKey().notNull())
      .addColumn('name', 'text', (c) => c.notNull())
      .addColumn('nameKey', 'text', (c) => c.notNull().unique())
      .addColumn('salt', 'blob', (c) => c.notNull())
      .addColumn('hash', 'blob', (c) => c.notNull())
      .addColumn('costLog2', 'integer', (c) => c.notNull())
      .addColumn('at', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createTable('session')
      .addColumn('tokenHash', 'text', (c) => c.primaryKey().notNull())
      .addColumn('personId', 'text', (c) => c.notNull().references('person.id').onDelete('cascade'))
      .addColumn('beganAt', 'text', (c) => c.notNull())
      .addColumn('seenAt', 'text', (c) => c.notNull())
      .modifyEnd(sql`strict`).execute();
    await db.schema.createIndex('sessionByPerson').on('session').column('personId').execute();
    await db.schema.createTable('guess')
      .addColumn('of', 'text', (c) => c.notNull().check(sql`"of" in ('name', 'address')`))
      .addColumn('key', 'text', (c) => c.notNull())
      .addColumn('failures', 'integer', (c) => c.notNull())
      .addColumn('lastAt', 'text', (c) => c.notNull())
      .addColumn('until', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('guessKey', ['of', 'key'])
      .modifyEnd(sql`strict`).execute();
  },
};
