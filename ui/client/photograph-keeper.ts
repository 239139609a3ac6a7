/** How far a photograph has got. */
export type PhotographState = { readonly kind: 'sent' } | { readonly kind: 'waiting'; readonly sentBytes: number; readonly bytes: number } | { readonly kind: 'refused'; readonly why: string };

/**
 * The pictures of jobs. One that was taken here is kept on this device, serves at once and is sent, piece by piece and as often as it
 * takes. Tells of news by an event named 'change'.
 */
export interface PhotographKeeper extends EventTarget {
  /**
   * Keeps a picture of a job and has it sent.
   * @throws StoreFault when this device cannot keep it; it then serves and is sent as long as the page is open
   */
  keep(jobId: string, hash: string, picture: Blob): Promise<void>;
  /** The bytes of a job's photograph: the ones on this device, else the server's. Rejects with a `ServiceFault`. */
  find(jobId: string, hash: string, signal?: AbortSignal): Promise<Blob>;
  stateOf(hash: string): PhotographState;
}
