import { Worker } from 'node:worker_threads';
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Catalogue } from '../../../catalog-schema/index.ts';
import type { CatalogueFile } from './engine-task.ts';

export type ToSnapshotThread = { readonly kind: 'parts'; readonly parts: Catalogue } | { readonly kind: 'finish' };

/** Parts from which a catalogue is written on a thread of its own: the engine's would hold up everybody for more than a second. */
const MANY_PARTS = 20_000;
/** So many are handed over at once: some 20 ms in which the server does nothing else. */
const PARTS_A_MESSAGE = 2_000;

/**
 * Large catalogues as files, each written once, however long it takes: a million parts take about a minute. A catalogue that is replaced
 * meanwhile is given up.
 */
export class CatalogueFiles {
  readonly #many: number;
  #current: { readonly parts: Catalogue; readonly thread: Worker; readonly file: Promise<CatalogueFile> } | undefined;

  constructor(many: number = MANY_PARTS) {
    this.#many = many;
  }

  /** undefined for a small catalogue: the engine's thread writes its own. */
  fileOf(parts: Catalogue): Promise<CatalogueFile> | undefined {
    if (parts.length < this.#many) return undefined;
    if (this.#current?.parts !== parts) {
      void this.#current?.thread.terminate();
      const thread = new Worker(new URL('./snapshot-thread.ts', import.meta.url));
      thread.unref();
      const file = new Promise<CatalogueFile>((resolve, reject) => {
        thread.once('message', resolve).once('error', reject).once('exit', () => reject(new Error('the thread that writes the catalogue ended')));
      });
      const current = { parts, thread, file };
      // What failed once is tried again with the next question.
      file.catch(() => {
        if (this.#current === current) this.#current = undefined;
      });
      this.#current = current;
      void handOver(parts, thread);
    }
    return this.#current.file;
  }

  async close(): Promise<void> {
    await this.#current?.thread.terminate();
  }
}

async function handOver(parts: Catalogue, thread: Worker): Promise<void> {
  const post = (message: ToSnapshotThread): void => thread.postMessage(message);
  for (let at = 0; at < parts.length; at += PARTS_A_MESSAGE) {
    post({ kind: 'parts', parts: parts.slice(at, at + PARTS_A_MESSAGE) });
    await nextTurn();
  }
  post({ kind: 'finish' });
}
