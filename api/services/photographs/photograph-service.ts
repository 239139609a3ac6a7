import { createHash } from 'node:crypto';
import { LIMITS, readPhotograph, type PictureType, type StoredPhotograph } from '../../../catalog-schema/index.ts';
import {
  findJob, findPhotograph, insertPhotograph, readPhotographBytes, sumPhotographBytes, type PhotographTable, type Store,
} from '../../store/index.ts';
import type { Clock } from '../clock.ts';
import { done, refuse, refuseFault, type Outcome } from '../outcome.ts';

/** Photographs of jobs, by the hash of their bytes. What is marked on them lies in the job's document. */
export interface PhotographService {
  /**
   * Keeps a photograph, as its bytes came. The same bytes sent again change nothing and answer `created` false.
   * Refuses what is not a whole JPEG, PNG or WebP picture, and more than a job may hold.
   */
  keep(jobId: string, bytes: Uint8Array): Promise<Outcome<{ created: boolean; photograph: StoredPhotograph }>>;
  read(jobId: string, hash: string): Promise<Outcome<{ type: PictureType; bytes: Uint8Array }>>;
}

export function createPhotographService(store: Store, clock: Clock): PhotographService {
  return {
    keep: async (jobId, bytes) => {
      const read = readPhotograph(bytes);
      if (!read.ok) return refuse({ kind: 'faults', faults: read.faults });
      const hash = createHash('sha256').update(bytes).digest('hex');
      return store.transact(async (tx) => {
        if (!await findJob(tx, jobId)) return refuse({ kind: 'not-found', what: `no job ${JSON.stringify(jobId.slice(0, 60))}` });
        const present = await findPhotograph(tx, jobId, hash);
        if (present) return done({ created: false, photograph: describeRow(present) });
        const held = await sumPhotographBytes(tx, jobId);
        if (held + bytes.length > LIMITS.photographBytesOfJob) {
          return refuseFault('', `${held + bytes.length} bytes in this job's photographs`, `at most ${LIMITS.photographBytesOfJob} bytes`);
        }
        const row = { jobId, hash, ...read.value, bytes, byteCount: bytes.length, at: clock.now().toISOString() };
        await insertPhotograph(tx, row);
        return done({ created: true, photograph: describeRow(row) });
      });
    },
    read: async (jobId, hash) => {
      const row = await readPhotographBytes(store.db, jobId, hash);
      return row ? done({ type: row.type as PictureType, bytes: row.bytes }) : refuse({ kind: 'not-found', what: `no photograph ${JSON.stringify(hash.slice(0, 64))} of this job` });
    },
  };
}

function describeRow({ hash, type, byteCount, widthPx, heightPx }: Omit<PhotographTable, 'bytes'>): StoredPhotograph {
  return { hash, type: type as PictureType, bytes: byteCount, widthPx, heightPx };
}
