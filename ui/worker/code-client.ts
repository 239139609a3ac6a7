import { createAsker } from './ask-worker.ts';

/** Codes read off the page's thread; the reader is loaded at the first question. */
export interface CodeClient {
  /** The texts of the codes in a frame or a picture. Rejects where the picture cannot be shown. */
  read(picture: ImageBitmap | Blob): Promise<string[]>;
}

export function createCodeClient(): CodeClient {
  const ask = createAsker(() => new Worker(new URL('./code-worker.ts', import.meta.url), { type: 'module', name: 'code' }));
  return { read: (picture) => ask('read', picture) };
}
