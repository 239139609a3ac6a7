import type { Db, Tx } from './database.ts';
import type { PartTable } from './part.table.ts';

/** Every part in the order of the catalogue. */
export function listParts(db: Db): Promise<PartTable[]> {
  return db.selectFrom('part').selectAll().orderBy('position').orderBy('id').execute();
}

/** Adds parts, or replaces those with the same id. */
export async function putParts(tx: Tx, parts: readonly PartTable[]): Promise<void> {
  // One statement for many rows: each call is a hop to another thread.
  for (let start = 0; start < parts.length; start += 100) {
    await tx.insertInto('part').values(parts.slice(start, start + 100))
      .onConflict((conflict) => conflict.column('id').doUpdateSet((excluded) => ({
        position: excluded.ref('excluded.position'), json: excluded.ref('excluded.json'),
      })))
      .execute();
  }
}
