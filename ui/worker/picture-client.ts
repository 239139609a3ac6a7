import type { MarkedPhotograph, MeasuredPhotograph } from '../../api/engine/photograph/index.ts';
import { createAsker } from './ask-worker.ts';
import type { PreparedPicture } from './picture-functions.ts';

/** Pictures off the page's thread: decoded, hashed, measured. One picture is open at a time. */
export interface PictureClient {
  /** What of a file is to be kept, or why it cannot be: its own bytes, or an upright JPEG where its longer side is above `mostSidePx` (4,096 if absent) or it is of another kind. */
  prepare(file: Blob, mostSidePx?: number): Promise<PreparedPicture>;
  /** Decodes a picture upright at a size, keeps its brightness for `measure`, and gives it back to be shown. */
  open(picture: Blob, widthPx: number, heightPx: number): Promise<ImageBitmap>;
  /** Measures what is marked on the open picture. */
  measure(marked: MarkedPhotograph): Promise<MeasuredPhotograph>;
}

export function createPictureClient(): PictureClient {
  const ask = createAsker(() => new Worker(new URL('./picture-worker.ts', import.meta.url), { type: 'module', name: 'picture' }));
  return {
    prepare: (file, mostSidePx) => ask('prepare', file, mostSidePx),
    open: (picture, widthPx, heightPx) => ask('open', picture, widthPx, heightPx),
    measure: (marked) => ask('measure', marked),
  };
}
