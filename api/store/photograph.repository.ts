import type { Db, Tx } from './database.ts';
import type { PhotographTable } from './photograph.table.ts';

/** What is known of a photograph, without its bytes. */
export function findPhotograph(db: Db, jobId: string, hash: string): Promise<Omit<PhotographTable, 'bytes'> | undefined> {
  return db.selectFrom('photograph').select(['jobId', 'hash', 'type', 'byteCount', 'widthPx', 'heightPx', 'at'])
    .where('jobId', '=', jobId).where('hash', '=', hash).executeTakeFirst();
}

export function readPhotographBytes(db: Db, jobId: string, hash: string): Promise<Pick<PhotographTable, 'type' | 'bytes'> | undefined> {
  return db.selectFrom('photograph').select(['type', 'bytes']).where('jobId', '=', jobId).where('hash', '=', hash).executeTakeFirst();
}

/** The photographs of a job in the order in which they came, without their bytes. */
export function listPhotographs(db: Db, jobId: string): Promise<Pick<PhotographTable, 'hash' | 'at'>[]> {
  return db.selectFrom('photograph').select(['hash', 'at']).where('jobId', '=', jobId).orderBy('at').orderBy('hash').execute();
}

/** The bytes of all photographs of a job together. */
export async function sumPhotographBytes(db: Db, jobId: string): Promise<number> {
  const { sum } = await db.selectFrom('photograph').select(({ fn, lit }) => fn.coalesce(fn.sum<number>('byteCount'), lit(0)).as('sum'))
    .where('jobId', '=', jobId).executeTakeFirstOrThrow();
  return sum;
}

export async function insertPhotograph(tx: Tx, photograph: PhotographTable): Promise<void> {
  await tx.insertInto('photograph').values(photograph).execute();
}
