import type { DBSchema } from 'idb';
import type { JobState } from '../../catalog-schema/index.ts';
import type { Act, Errand, KeptAnswer } from '../client/index.ts';

// What this device keeps in its own store. `edits`, `requests` and the photographs that wait are work of a person that the server does
// not have yet: no upgrade and no clearing of space may take one of them away. The rest can be fetched again.

/** A request that waits to be sent, or that was answered with a no a person has not seen yet. */
export type KeptRequest = Errand & { readonly jobId?: string; readonly at: string; readonly answer?: KeptAnswer };

/** A photograph of a job: taken here and not sent yet, or only held to be shown. */
export interface KeptPhotograph {
  readonly jobId: string;
  /** SHA-256 of the bytes, hexadecimal */
  readonly hash: string;
  readonly picture: Blob;
  readonly at: string;
  /** since when it waits to be sent; absent once the server has it whole */
  readonly waitingSince?: string;
  /** bytes of it that the server is known to have */
  readonly sentBytes?: number;
  readonly answer?: KeptAnswer;
}

/** Something fetched, as it was answered last. */
export interface KeptReading {
  readonly value: unknown;
  /** the server's ETag of it */
  readonly tag?: string;
  readonly at: string;
}

export interface OfflineSchema extends DBSchema {
  /** the last state of each job that the server answered, by id; of one begun here, what it was begun with */
  jobs: { key: string; value: JobState };
  /** acts in the order they were made */
  edits: { key: number; value: Act; indexes: { job: string } };
  /** other requests in the order they were made */
  requests: { key: number; value: KeptRequest; indexes: { job: string } };
  photographs: { key: [jobId: string, hash: string]; value: KeptPhotograph; indexes: { waiting: string } };
  /** readings by name: the snapshot, prices, shelf, lists */
  kept: { key: string; value: KeptReading };
  /** what this device knows of itself by name, such as its own id; never cleared for space */
  device: { key: string; value: unknown };
}
