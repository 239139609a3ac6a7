import type { Db, Tx } from './database.ts';
import type { UploadPieceTable, UploadTable } from './upload.table.ts';

export function findUpload(db: Db, jobId: string, hash: string): Promise<UploadTable | undefined> {
  return db.selectFrom('upload').selectAll().where('jobId', '=', jobId).where('hash', '=', hash).executeTakeFirst();
}

/** Bytes of an upload that have arrived. */
export async function sumUploadBytes(db: Db, jobId: string, hash: string): Promise<number> {
  const { sum } = await db.selectFrom('uploadPiece').select(({ fn, lit }) => fn.coalesce(fn.sum<number>('byteCount'), lit(0)).as('sum'))
    .where('jobId', '=', jobId).where('hash', '=', hash).executeTakeFirstOrThrow();
  return sum;
}

/** The lengths that all uploads of a job will have. */
export async function sumUploadLengths(db: Db, jobId: string): Promise<number> {
  const { sum } = await db.selectFrom('upload').select(({ fn, lit }) => fn.coalesce(fn.sum<number>('byteCount'), lit(0)).as('sum'))
    .where('jobId', '=', jobId).executeTakeFirstOrThrow();
  return sum;
}

export async function insertUpload(tx: Tx, upload: UploadTable): Promise<void> {
  await tx.insertInto('upload').values(upload).execute();
}

export async function insertUploadPiece(tx: Tx, piece: UploadPieceTable): Promise<void> {
  await tx.insertInto('uploadPiece').values(piece).execute();
}

/** The pieces in the order of their bytes. */
export async function readUploadPieces(db: Db, jobId: string, hash: string): Promise<Uint8Array[]> {
  const rows = await db.selectFrom('uploadPiece').select('bytes').where('jobId', '=', jobId).where('hash', '=', hash).orderBy('start').execute();
  return rows.map((row) => row.bytes);
}

/** Takes an upload away with what has arrived of it; false where there was none. */
export async function deleteUpload(tx: Tx, jobId: string, hash: string): Promise<boolean> {
  const { numDeletedRows } = await tx.deleteFrom('upload').where('jobId', '=', jobId).where('hash', '=', hash).executeTakeFirst();
  return numDeletedRows > 0n;
}

/** Takes the uploads away that were begun before a moment. */
export async function deleteUploadsBefore(tx: Tx, at: string): Promise<void> {
  await tx.deleteFrom('upload').where('at', '<', at).execute();
}
