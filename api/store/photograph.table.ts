/** A photograph of a job: its bytes as they came, told by their own hash. They lie apart from the edits, which only name the hash. */
export interface PhotographTable {
  jobId: string;
  /** SHA-256 of the bytes, in hexadecimal */
  hash: string;
  type: string;
  bytes: Uint8Array;
  byteCount: number;
  widthPx: number;
  heightPx: number;
  at: string;
}
