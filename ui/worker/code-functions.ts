import { prepareZXingModule, readBarcodes, type ReadResult } from 'zxing-wasm/reader';
import readerAddress from 'zxing-wasm/reader/zxing_reader.wasm?url';

/** Codes are looked for in at most so many px a side: a tag that fills a quarter of the picture then has six px a module. */
const MOST_SIDE_PX = 1_280;
/** A picture chosen from a file is looked at more closely: there is only this one. */
const MOST_CHOSEN_PX = 2_560;
const MOST_CODES = 40;

// The reader comes from this server like everything else; by itself it would be fetched from outside.
prepareZXingModule({ overrides: { locateFile: (path: string) => (path.endsWith('.wasm') ? readerAddress : path) } });

/** What the page may ask of the worker. */
export const CODE_FUNCTIONS = {
  /** The texts of the codes in a frame of the camera or in a picture, upright as its Exif says, the one nearest the middle first. Empty where there is none. */
  async read(picture: ImageBitmap | Blob): Promise<string[]> {
    const chosen = picture instanceof Blob;
    const bitmap = chosen ? await createImageBitmap(picture, { imageOrientation: 'from-image' }) : picture;
    const pixels = readPixels(bitmap, chosen ? MOST_CHOSEN_PX : MOST_SIDE_PX);
    const found = await readBarcodes(pixels, { formats: ['QRCode', 'Code128'], tryHarder: true, maxNumberOfSymbols: MOST_CODES });
    // On a sheet of tags, and among tied wires, the one that is aimed at is meant.
    const offMiddle = ({ position: { topLeft, bottomRight } }: ReadResult): number =>
      Math.hypot((topLeft.x + bottomRight.x - pixels.width) / 2, (topLeft.y + bottomRight.y - pixels.height) / 2);
    return [...new Set(found.filter(({ isValid }) => isValid).toSorted((a, b) => offMiddle(a) - offMiddle(b)).map(({ text }) => text))];
  },
} as const;

function readPixels(bitmap: ImageBitmap, most: number): ImageData {
  const scale = Math.min(1, most / Math.max(bitmap.width, bitmap.height));
  const [width, height] = [Math.max(1, Math.round(bitmap.width * scale)), Math.max(1, Math.round(bitmap.height * scale))];
  const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true })!;
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return context.getImageData(0, 0, width, height);
}
