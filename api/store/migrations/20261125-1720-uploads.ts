import { sql, type Kysely } from 'kysely';
import type { Migration } from 'kysely/migration';

/** Photographs on their way in: what has arrived of each, piece by piece, until it is whole. */
export const uploads: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await db.schema.createTable('upload')
      .addColumn('jobId', 'text', (c) => c.notNull().references('job.id'))
      .addColumn('hash', 'text', (c) => c.notNull().check(sql`length(hash) = 64`))
      .addColumn('byteCount', 'integer', (c) => c.notNull().check(sql`"byteCount" > 0`))
      .addColumn('at', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('uploadKey', ['jobId', 'hash'])
      .modifyEnd(sql`strict`).execute();
    await db.schema.createTable('uploadPiece')
      .addColumn('jobId', 'text', (c) => c.notNull())
      .addColumn('hash', 'text', (c) => c.notNull())
      .addColumn('start', 'integer', (c) => c.notNull().check(sql`start >= 0`))
      .addColumn('byteCount', 'integer', (c) => c.notNull().check(sql`"byteCount" = length(bytes) and "byteCount" > 0`))
      .addColumn('bytes', 'blob', (c) => c.notNull())
      .addPrimaryKeyConstraint('uploadPieceKey', ['jobId', 'hash', 'start'])
      .addForeignKeyConstraint('uploadPieceUpload', ['jobId', 'hash'], 'upload', ['jobId', 'hash'], (c) => c.onDelete('cascade'))
      .modifyEnd(sql`strict`).execute();
  },
};
