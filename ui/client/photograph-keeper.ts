import { RETRY_MS, type SheetWorld } from './job-sheet.ts';
import { ServiceFault, type Service } from './service.ts';

/** How far a photograph has got. */
export type PhotographState = { readonly kind: 'sent' } | { readonly kind: 'waiting'; readonly reached: boolean } | { readonly kind: 'refused'; readonly why: string };

interface Waiting { readonly jobId: string; readonly hash: string; readonly picture: Blob; state: PhotographState }

/**
 * The pictures this page has taken or shown. One that was taken here serves at once and is sent, one after the other, as often as it
 * takes: the server knows it by its hash, so a repeat is harmless. Tells of news by an event named 'change'.
 */
export class PhotographKeeper extends EventTarget {
  #service: Pick<Service, 'keepPhotograph' | 'readPhotograph'>;
  #later: SheetWorld['later'];
  #held = new Map<string, Blob>();
  #queue: Waiting[] = [];
  #refused = new Map<string, string>();
  #sending = false;
  #tries = 0;
  #callOff: () => void = () => {};

  constructor(service: Pick<Service, 'keepPhotograph' | 'readPhotograph'>, later: SheetWorld['later']) {
    super();
    this.#service = service;
    this.#later = later;
  }

  /** Photographs that the server does not have yet. */
  get waiting(): number { return this.#queue.length; }

  /** Holds a picture of a job and sends it. */
  keep(jobId: string, hash: string, picture: Blob): void {
    this.#held.set(hash, picture);
    this.#refused.delete(hash);
    if (!this.#queue.some((entry) => entry.hash === hash && entry.jobId === jobId)) {
      this.#queue.push({ jobId, hash, picture, state: { kind: 'waiting', reached: true } });
    }
    this.sendNow();
  }

  /** The bytes of a job's photograph: the ones held here, else the server's. Rejects with a `ServiceFault`. */
  async find(jobId: string, hash: string, signal?: AbortSignal): Promise<Blob> {
    const held = this.#held.get(hash);
    if (held !== undefined) return held;
    const picture = await this.#service.readPhotograph(jobId, hash, signal);
    this.#held.set(hash, picture);
    return picture;
  }

  stateOf(hash: string): PhotographState {
    const why = this.#refused.get(hash);
    if (why !== undefined) return { kind: 'refused', why };
    return this.#queue.find((entry) => entry.hash === hash)?.state ?? { kind: 'sent' };
  }

  /** Sends what waits now instead of at the next try. */
  sendNow(): void {
    this.#callOff();
    void this.#send();
  }

  async #send(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    for (let entry = this.#queue[0]; entry !== undefined; entry = this.#queue[0]) {
      try {
        await this.#service.keepPhotograph(entry.jobId, entry.picture);
        this.#tries = 0;
        this.#queue.shift();
      } catch (error) {
        if (error instanceof ServiceFault && (error.kind === 'refused' || error.kind === 'not-found')) {
          this.#queue.shift();
          this.#refused.set(entry.hash, error.detail || error.kind);
        } else {
          entry.state = { kind: 'waiting', reached: false };
          this.#callOff = this.#later(() => { void this.#send(); }, RETRY_MS[Math.min(this.#tries, RETRY_MS.length - 1)]!);
          this.#tries += 1;
          break;
        }
      }
      this.dispatchEvent(new Event('change'));
    }
    this.#sending = false;
    this.dispatchEvent(new Event('change'));
  }
}
