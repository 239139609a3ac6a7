import type { Db, Tx } from './database.ts';
import type { OrderLineTable } from './order.table.ts';

/** Drafted lines in the order in which they were made, or those of one job. */
export function listOrderLines(db: Db, jobId?: string): Promise<OrderLineTable[]> {
  return db.selectFrom('orderLine').selectAll()
    .$if(jobId !== undefined, (query) => query.where('jobId', '=', jobId!))
    .orderBy('at').orderBy('id').execute();
}

export function findOrderLine(db: Db, id: string): Promise<OrderLineTable | undefined> {
  return db.selectFrom('orderLine').selectAll().where('id', '=', id).executeTakeFirst();
}

export async function insertOrderLine(tx: Tx, line: OrderLineTable): Promise<void> {
  await tx.insertInto('orderLine').values(line).execute();
}

/** @returns whether there was one. */
export async function deleteOrderLine(tx: Tx, id: string): Promise<boolean> {
  const result = await tx.deleteFrom('orderLine').where('id', '=', id).executeTakeFirst();
  return result.numDeletedRows > 0n;
}
