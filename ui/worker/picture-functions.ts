import { measureMarked, snapMarks, type GreyPicture, type MarkedPhotograph, type MeasuredPhotograph, type SnappedEdge } from '../../api/engine/photograph/index.ts';
import { findPictureType, LIMITS, readPhotograph, type InputFault, type PhotographMark, type Read } from '../../catalog-schema/index.ts';
import { hashBytes } from './sha-256.ts';

/** What is to be kept of a file: the bytes with their hash, and the size at which marks count. */
export type PreparedPicture =
  | { readonly ok: true; readonly picture: Blob; readonly hash: string; readonly widthPx: number; readonly heightPx: number }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** A picture is measured at no more than this, px: what a telephone of 12 megapixels takes (4,032) is kept as it is. */
const MOST_SIDE_PX = 4_096;
/** A file larger than this is not even opened. */
const MOST_FILE_BYTES = 5 * LIMITS.photographBytes;
const JPEG_QUALITY = 0.92;

let open: GreyPicture | undefined;
let snapped = new Map<string, Read<SnappedEdge>>();

/** What the page may ask of the worker. */
export const PICTURE_FUNCTIONS = {
  async prepare(file: Blob, mostSidePx = MOST_SIDE_PX): Promise<PreparedPicture> {
    if (file.size > MOST_FILE_BYTES) return refuse(`${file.size} bytes`, `at most ${MOST_FILE_BYTES} bytes`);
    const bytes = new Uint8Array(await file.arrayBuffer());
    const type = findPictureType(bytes);
    const read = readPhotograph(bytes, MOST_FILE_BYTES);
    // A broken picture is often shown all the same, grey where it ends: it is refused before anybody measures in it.
    if (type !== undefined && !read.ok) return read;
    // Other kinds serve where this device can show them, as a telephone can its own.
    const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => undefined);
    if (bitmap === undefined) return read.ok ? refuse('a picture that this device cannot show', 'another picture') : read;
    const { width, height } = bitmap;
    if (type !== undefined && bytes.length <= LIMITS.photographBytes && Math.max(width, height) <= mostSidePx) {
      bitmap.close();
      return { ok: true, picture: new Blob([bytes], { type }), hash: hashBytes(bytes), widthPx: width, heightPx: height };
    }
    const scale = Math.min(1, mostSidePx / Math.max(width, height));
    const canvas = drawUpright(bitmap, Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)));
    const picture = await canvas.convertToBlob({ type: 'image/jpeg', quality: JPEG_QUALITY });
    if (picture.size > LIMITS.photographBytes) return refuse(`${picture.size} bytes`, `at most ${LIMITS.photographBytes} bytes`);
    return { ok: true, picture, hash: hashBytes(new Uint8Array(await picture.arrayBuffer())), widthPx: canvas.width, heightPx: canvas.height };
  },

  async open(picture: Blob, widthPx: number, heightPx: number): Promise<ImageBitmap> {
    const canvas = drawUpright(await createImageBitmap(picture, { imageOrientation: 'from-image' }), widthPx, heightPx);
    const { data } = canvas.getContext('2d')!.getImageData(0, 0, widthPx, heightPx);
    const luminance = new Uint8ClampedArray(widthPx * heightPx);
    // weights of red, green and blue in brightness: ITU-R BT.601 (from memory)
    for (let k = 0; k < luminance.length; k++) luminance[k] = 0.299 * data[4 * k]! + 0.587 * data[4 * k + 1]! + 0.114 * data[4 * k + 2]!;
    open = { luminance, widthPx, heightPx };
    snapped = new Map();
    return canvas.transferToImageBitmap();
  },

  measure(marked: MarkedPhotograph): MeasuredPhotograph {
    if (open === undefined) throw new Error('no picture is open');
    const picture = open;
    return measureMarked(marked, (marks) => snapOnce(picture, marks));
  },
} as const;

/** An edge that has not moved is not looked for again. */
function snapOnce(picture: GreyPicture, marks: readonly PhotographMark[]): Read<SnappedEdge> {
  const key = JSON.stringify(marks);
  const edge = snapped.get(key) ?? snapMarks(picture, marks);
  snapped.set(key, edge);
  return edge;
}

function drawUpright(bitmap: ImageBitmap, widthPx: number, heightPx: number): OffscreenCanvas {
  const canvas = new OffscreenCanvas(widthPx, heightPx);
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, widthPx, heightPx);
  bitmap.close();
  return canvas;
}

function refuse(found: string, want: string): PreparedPicture {
  return { ok: false, faults: [{ path: '', found, want }] };
}
