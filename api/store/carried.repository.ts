import type { Db, Tx } from './database.ts';

/** What came with a job from another server, as JSON; undefined where nothing did. */
export async function findCarried(db: Db, jobId: string): Promise<string | undefined> {
  return (await db.selectFrom('jobCarried').select('json').where('jobId', '=', jobId).executeTakeFirst())?.json;
}

export async function putCarried(tx: Tx, jobId: string, json: string): Promise<void> {
  await tx.insertInto('jobCarried').values({ jobId, json }).onConflict((conflict) => conflict.column('jobId').doUpdateSet({ json })).execute();
}
