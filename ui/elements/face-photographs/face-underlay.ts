import type { JobPhotograph, RecordTerminal } from '../../../catalog-schema/index.ts';
import type { PhotographKeeper } from '../../client/index.ts';
import type { FacePhoto } from '../terminal-picture/index.ts';
import { pinsOf, placePhotograph } from './place-photograph.ts';

/**
 * The picture beneath the terminal drawing: the newest of the job's whose pins lay it. Its bytes are fetched once. Tells of news by an
 * event named 'change'.
 */
export class FaceUnderlay extends EventTarget {
  #photographs: Pick<PhotographKeeper, 'find'>;
  #hash: string | undefined;
  #href: string | undefined;

  constructor(photographs: Pick<PhotographKeeper, 'find'>) {
    super();
    this.#photographs = photographs;
  }

  /** The picture as it lies now; undefined while there is none, or its bytes are not here. */
  look(jobId: string, photographs: Readonly<Record<string, JobPhotograph>>, terminals: readonly RecordTerminal[]): FacePhoto | undefined {
    const [laid] = Object.entries(photographs).flatMap(([hash, photograph]) => {
      const toMm = placePhotograph(pinsOf(photograph, terminals), terminals);
      return toMm === undefined ? [] : [{ hash, photograph, toMm }];
    }).toSorted((a, b) => (a.photograph.at < b.photograph.at ? 1 : -1));
    if (laid?.hash !== this.#hash) void this.#load(jobId, laid?.hash);
    if (laid === undefined || this.#href === undefined) return undefined;
    const { widthPx, heightPx } = laid.photograph;
    return { href: this.#href, widthPx, heightPx, toMm: laid.toMm };
  }

  close(): void {
    if (this.#href !== undefined) URL.revokeObjectURL(this.#href);
    this.#href = undefined;
    this.#hash = undefined;
  }

  async #load(jobId: string, hash: string | undefined): Promise<void> {
    this.close();
    this.#hash = hash;
    if (hash === undefined) return;
    // Where the picture cannot be had, the drawing serves without it; the list of photographs says why.
    const blob = await this.#photographs.find(jobId, hash).catch(() => undefined);
    if (blob === undefined || hash !== this.#hash) return;
    this.#href = URL.createObjectURL(blob);
    this.dispatchEvent(new Event('change'));
  }
}
