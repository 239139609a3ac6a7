import type { Read } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import type { PictureSize } from './picture-size.ts';
import { readJpeg } from './read-jpeg.ts';
import { readPng } from './read-png.ts';
import { readWebp } from './read-webp.ts';

/** The kinds of picture a job keeps. */
export type PictureType = 'image/jpeg' | 'image/png' | 'image/webp';

/** What a picture's own bytes say of it. Width and height are as it is shown, turned where the camera was. */
export interface PhotographFacts { readonly type: PictureType; readonly widthPx: number; readonly heightPx: number }

/** The kind of picture by its first bytes, whatever its name says; undefined for all others. */
export function findPictureType(bytes: Uint8Array): PictureType | undefined {
  const starts = (at: number, ...values: number[]) => values.every((value, k) => bytes[at + k] === value);
  if (starts(0, 0xff, 0xd8, 0xff)) return 'image/jpeg';
  if (starts(0, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png';
  if (starts(0, 0x52, 0x49, 0x46, 0x46) && starts(8, 0x57, 0x45, 0x42, 0x50)) return 'image/webp';
  return undefined;
}

/**
 * Reads a photograph without decoding it: its kind by its first bytes, its size, and whether it is whole to its end.
 * One fault for the input as a whole: nothing, too large, not a picture, cut off, or of an absurd size.
 * Cost: one pass over the bytes.
 * @param mostBytes a larger file serves where it is scaled before it is kept
 */
export function readPhotograph(bytes: Uint8Array, mostBytes: number = LIMITS.photographBytes): Read<PhotographFacts> {
  if (bytes.length === 0) return refuse('nothing', 'a photograph: JPEG, PNG or WebP');
  if (bytes.length > mostBytes) return refuse(`${bytes.length} bytes`, `at most ${mostBytes} bytes`);
  const type = findPictureType(bytes);
  if (type === undefined) return refuse(describeOther(bytes), 'a photograph: JPEG, PNG or WebP');
  const size = readSize(type, bytes);
  if ('broken' in size) return refuse(size.broken, 'a whole picture');
  const { widthPx, heightPx, turned } = size;
  if (widthPx < 1 || heightPx < 1 || widthPx > LIMITS.photographSidePx || heightPx > LIMITS.photographSidePx) {
    return refuse(`a picture of ${widthPx} x ${heightPx} px`, `1 to ${LIMITS.photographSidePx} px each way`);
  }
  return { ok: true, value: turned ? { type, widthPx: heightPx, heightPx: widthPx } : { type, widthPx, heightPx } };
}

function readSize(type: PictureType, bytes: Uint8Array): PictureSize {
  switch (type) {
    case 'image/jpeg': return readJpeg(bytes);
    case 'image/png': return readPng(bytes);
    case 'image/webp': return readWebp(bytes);
  }
}

/** What else it may be, in a word that helps: telephones write HEIC. */
function describeOther(bytes: Uint8Array): string {
  const head = String.fromCharCode(...bytes.subarray(0, 16));
  if (head.slice(4, 8) === 'ftyp') return /^(?:hei|hev|mif|msf)/.test(head.slice(8)) ? 'a picture of type HEIC' : 'a file of a type that is not read here';
  if (head.startsWith('GIF8')) return 'a picture of type GIF';
  if (head.startsWith('%PDF')) return 'a PDF file';
  return bytes.subarray(0, 512).every((byte) => byte >= 32 || byte === 9 || byte === 10 || byte === 13) ? 'text' : 'a file that is no picture';
}

function refuse(found: string, want: string): Read<never> {
  return { ok: false, faults: [{ path: '', found, want }] };
}
