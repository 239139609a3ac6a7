/** A photograph on its way in: how long it will be by what its sender said, and since when. */
export interface UploadTable {
  jobId: string;
  /** SHA-256 that the whole will have, in hexadecimal */
  hash: string;
  byteCount: number;
  at: string;
}

/** Bytes that have arrived, from `start` on. Pieces of one upload follow on one another without gaps. */
export interface UploadPieceTable {
  jobId: string;
  hash: string;
  start: number;
  byteCount: number;
  bytes: Uint8Array;
}
