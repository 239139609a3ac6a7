import type { MarkedPhotograph, MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import type { JobPhotograph } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';

/**
 * The picture that is open and what its marks come to. Tells of news by an event named 'change'. One question is on its way at a
 * time; of marks that change meanwhile only the newest are asked about.
 */
export class MeasureWatch extends EventTarget {
  picture: ImageBitmap | undefined;
  measured: MeasuredPhotograph | undefined;
  /** why the picture could not be opened or measured; '' while it could */
  failed = '';
  #desk: Desk;
  #open = '';
  #asked = '';
  #asking = false;
  #next: MarkedPhotograph | undefined;

  constructor(desk: Desk) {
    super();
    this.#desk = desk;
  }

  /** Opens a job's picture, from here or from the server, and measures what is marked on it. Does nothing where it is open. */
  look(jobId: string, hash: string, { name: _name, at: _at, ...marked }: JobPhotograph): void {
    if (hash !== this.#open) void this.#load(jobId, hash, marked.widthPx, marked.heightPx);
    const text = JSON.stringify([hash, marked]);
    if (text === this.#asked) return;
    this.#asked = text;
    this.#next = marked;
    if (this.picture !== undefined && !this.#asking) void this.#measure();
  }

  /** Forgets the picture, so that the next look opens it anew. */
  close(): void {
    this.#open = '';
    this.#asked = '';
    this.#next = undefined;
    this.#show({ picture: undefined, measured: undefined, failed: '' });
  }

  async #load(jobId: string, hash: string, widthPx: number, heightPx: number): Promise<void> {
    this.#open = hash;
    this.#show({ picture: undefined, measured: undefined, failed: '' });
    try {
      const blob = await this.#desk.photographs.find(jobId, hash);
      const picture = await this.#desk.pictures.open(blob, widthPx, heightPx);
      if (hash !== this.#open) return;
      this.#show({ picture, measured: undefined, failed: '' });
      if (!this.#asking) await this.#measure();
    } catch (error) {
      if (hash === this.#open) this.#show({ picture: undefined, measured: undefined, failed: sayFault(error) });
    }
  }

  async #measure(): Promise<void> {
    this.#asking = true;
    while (this.#next !== undefined && this.picture !== undefined) {
      const marked = this.#next;
      const hash = this.#open;
      this.#next = undefined;
      try {
        const measured = await this.#desk.pictures.measure(marked);
        if (hash === this.#open) this.#show({ picture: this.picture, measured, failed: '' });
      } catch (error) {
        this.#show({ picture: this.picture, measured: this.measured, failed: sayFault(error) });
      }
    }
    this.#asking = false;
  }

  #show({ picture, measured, failed }: Pick<MeasureWatch, 'picture' | 'measured' | 'failed'>): void {
    if (picture !== this.picture) this.picture?.close();
    Object.assign(this, { picture, measured, failed });
    this.dispatchEvent(new Event('change'));
  }
}
