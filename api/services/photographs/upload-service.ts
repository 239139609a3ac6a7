import { createHash } from 'node:crypto';
import { LIMITS, type StoredPhotograph } from '../../../catalog-schema/index.ts';
import {
  deleteUpload, deleteUploadsBefore, findJob, findPhotograph, findUpload, insertUpload, insertUploadPiece, readUploadPieces, sumPhotographBytes,
  sumUploadBytes, sumUploadLengths, type Store, type Tx, type UploadTable,
} from '../../store/index.ts';
import type { Clock } from '../clock.ts';
import { done, refuse, refuseFault, type Outcome, type Refusal } from '../outcome.ts';
import type { PhotographService } from './photograph-service.ts';

/** How far a photograph has come in. */
export interface UploadProgress {
  /** bytes that are on the disk */
  readonly offset: number;
  readonly byteCount: number;
  readonly whole: boolean;
}

/** Photographs that come in pieces, so that a break costs what was on its way and no more. */
export interface UploadService {
  /** Begins an upload of bytes with this SHA-256, or finds it as far as it has come; a photograph that is there already is whole. */
  begin(jobId: string, hash: string, byteCount: number): Promise<Outcome<UploadProgress>>;
  find(jobId: string, hash: string): Promise<Outcome<UploadProgress>>;
  /**
   * Adds bytes that follow on what has arrived. Resolves once they are on the disk. At another offset than the upload's it changes nothing
   * and answers as `find` does, with `added` false.
   */
  append(jobId: string, hash: string, offset: number, bytes: Uint8Array): Promise<Outcome<UploadProgress & { added: boolean }>>;
  /**
   * Makes a photograph of what has arrived. Where its bytes are fewer than was said, are others than their hash says, or are no picture,
   * that is refused; bytes that can never be right are not kept.
   */
  finish(jobId: string, hash: string): Promise<Outcome<{ created: boolean; photograph: StoredPhotograph }>>;
  /** Gives an upload up. */
  cancel(jobId: string, hash: string): Promise<Outcome<null>>;
}

/** An upload that nobody went on with for so long is given up; its device begins it anew. Common practice, no source. */
export const UPLOAD_LASTS_DAYS = 14;

export function createUploadService(store: Store, photographs: PhotographService, clock: Clock): UploadService {
  const progressOf = async (db: Parameters<typeof findUpload>[0], jobId: string, hash: string): Promise<UploadProgress | undefined> => {
    const stored = await findPhotograph(db, jobId, hash);
    if (stored) return { offset: stored.byteCount, byteCount: stored.byteCount, whole: true };
    const upload = await findUpload(db, jobId, hash);
    return upload && { offset: await sumUploadBytes(db, jobId, hash), byteCount: upload.byteCount, whole: false };
  };

  return {
    begin: (jobId, hash, byteCount) => store.transact(async (tx) => {
      if (!await findJob(tx, jobId)) return refuse({ kind: 'not-found', what: `no job ${JSON.stringify(jobId.slice(0, 60))}` });
      const present = await progressOf(tx, jobId, hash);
      if (present) {
        return present.byteCount === byteCount ? done(present)
          : refuseFault('upload-length', String(byteCount), `${present.byteCount}, as was said of these bytes before`);
      }
      if (byteCount > LIMITS.photographBytes) return refuseFault('upload-length', `${byteCount} bytes`, `at most ${LIMITS.photographBytes} bytes`);
      const oldest = new Date(clock.now().getTime() - UPLOAD_LASTS_DAYS * 86_400_000);
      await deleteUploadsBefore(tx, oldest.toISOString());
      const held = await sumPhotographBytes(tx, jobId) + await sumUploadLengths(tx, jobId);
      if (held + byteCount > LIMITS.photographBytesOfJob) {
        return refuseFault('upload-length', `${held + byteCount} bytes in this job's photographs`, `at most ${LIMITS.photographBytesOfJob} bytes`);
      }
      await insertUpload(tx, { jobId, hash, byteCount, at: clock.now().toISOString() });
      return done({ offset: 0, byteCount, whole: false });
    }),
    find: async (jobId, hash) => {
      const progress = await progressOf(store.db, jobId, hash);
      return progress ? done(progress) : refuseUnknown(hash);
    },
    append: (jobId, hash, offset, bytes) => store.transact(async (tx) => {
      const present = await progressOf(tx, jobId, hash);
      if (!present) return refuseUnknown(hash);
      if (present.whole || present.offset !== offset) return done({ ...present, added: false });
      const after = offset + bytes.length;
      if (after > present.byteCount) return refuseFault('', `${after} bytes`, `${present.byteCount}, as was said when it was begun`);
      if (bytes.length > 0) await insertUploadPiece(tx, { jobId, hash, start: offset, byteCount: bytes.length, bytes });
      return done({ ...present, offset: after, added: true });
    }),
    finish: async (jobId, hash) => {
      const upload = await findUpload(store.db, jobId, hash);
      // Finished before: the answer was lost, the photograph was not.
      if (!upload) return readFinished(store, jobId, hash);
      const bytes = await readWhole(store, upload);
      if (!bytes.ok) return bytes;
      const found = createHash('sha256').update(bytes.value).digest('hex');
      const kept = found === hash ? await photographs.keep(jobId, bytes.value) : refuseFault('', `bytes whose SHA-256 is ${found}`, hash);
      if (kept.ok || kept.refusal.kind === 'faults') await store.transact((tx: Tx) => deleteUpload(tx, jobId, hash));
      return kept;
    },
    cancel: async (jobId, hash) => (await store.transact((tx) => deleteUpload(tx, jobId, hash)) ? done(null) : refuseUnknown(hash)),
  };
}

async function readWhole(store: Store, { jobId, hash, byteCount }: UploadTable): Promise<Outcome<Uint8Array>> {
  const pieces = await readUploadPieces(store.db, jobId, hash);
  const bytes = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  if (at < byteCount) return refuse({ kind: 'conflict', why: `${at} of ${byteCount} bytes have arrived` });
  return done(bytes);
}

async function readFinished(store: Store, jobId: string, hash: string): Promise<Outcome<{ created: boolean; photograph: StoredPhotograph }>> {
  const stored = await findPhotograph(store.db, jobId, hash);
  if (!stored) return refuseUnknown(hash);
  const { type, byteCount, widthPx, heightPx } = stored;
  return done({ created: false, photograph: { hash, type: type as StoredPhotograph['type'], bytes: byteCount, widthPx, heightPx } });
}

function refuseUnknown(hash: string): { readonly ok: false; readonly refusal: Refusal } {
  return refuse({ kind: 'not-found', what: `no upload of ${JSON.stringify(hash.slice(0, 64))} for this job` });
}
