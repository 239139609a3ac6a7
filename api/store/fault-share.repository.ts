import type { Db, Tx } from './database.ts';
import type { FaultShareTable } from './fault-share.table.ts';

export function listFaultShares(db: Db): Promise<FaultShareTable[]> {
  return db.selectFrom('faultShare').selectAll().orderBy('fault').execute();
}

/** Puts these in place of all there were. */
export async function replaceFaultShares(tx: Tx, shares: readonly FaultShareTable[]): Promise<void> {
  await tx.deleteFrom('faultShare').execute();
  if (shares.length > 0) await tx.insertInto('faultShare').values(shares).execute();
}
