import type { PictureSize } from './picture-size.ts';

// Source: ITU-T T.81 (JPEG), annex B: markers and segments; Exif 2.3, tag 0x0112: orientation (both from memory).

const START_OF_SCAN = 0xda;
const END_OF_IMAGE = 0xd9;
const APPLICATION_1 = 0xe1;
const ORIENTATION = 0x0112;

/**
 * Walks a JPEG's segments from the first to its end: size from the frame header, orientation from Exif.
 * What follows the end of the image (telephones append) is not looked at.
 */
export function readJpeg(bytes: Uint8Array): PictureSize {
  let size: { widthPx: number; heightPx: number } | undefined;
  let turned = false;
  let scanned = false;
  let at = 2;
  while (at + 1 < bytes.length) {
    if (bytes[at] !== 0xff) return { broken: 'a JPEG picture that is damaged' };
    const marker = bytes[at + 1]!;
    // fill bytes before a marker
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker === END_OF_IMAGE) return size && scanned ? { ...size, turned } : { broken: 'a JPEG picture without its picture' };
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2;
      continue;
    }
    const length = (bytes[at + 2] ?? 0) * 256 + (bytes[at + 3] ?? 0);
    if (length < 2) return { broken: 'a JPEG picture that is cut off or damaged' };
    const segment = bytes.subarray(at + 4, at + 2 + length);
    if (segment.length < length - 2) break;
    if (isFrameHeader(marker) && segment.length >= 5) size = { heightPx: segment[1]! * 256 + segment[2]!, widthPx: segment[3]! * 256 + segment[4]! };
    if (marker === APPLICATION_1) turned ||= readOrientation(segment) >= 5;
    at += 2 + length;
    if (marker !== START_OF_SCAN) continue;
    scanned = true;
    at = skipScan(bytes, at);
  }
  return { broken: 'a JPEG picture that is cut off' };
}

function isFrameHeader(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
}

/** The next marker after compressed data, in which 0xff stands only before 0 and restart markers. */
function skipScan(bytes: Uint8Array, from: number): number {
  for (let at = bytes.indexOf(0xff, from); at >= 0; at = bytes.indexOf(0xff, at + 1)) {
    const next = bytes[at + 1];
    if (next !== 0x00 && !(next !== undefined && next >= 0xd0 && next <= 0xd7)) return at;
  }
  return bytes.length;
}

/** 1 upright to 8, of which 5 to 8 lie on their side; 1 where the segment says nothing. */
function readOrientation(segment: Uint8Array): number {
  if (String.fromCharCode(...segment.subarray(0, 6)) !== 'Exif\0\0') return 1;
  const tiff = new DataView(segment.buffer, segment.byteOffset + 6, segment.length - 6);
  if (tiff.byteLength < 8) return 1;
  const little = tiff.getUint16(0) === 0x4949;
  const directory = tiff.getUint32(4, little);
  if (directory + 2 > tiff.byteLength) return 1;
  const entries = tiff.getUint16(directory, little);
  for (let k = 0; k < entries; k++) {
    const entry = directory + 2 + 12 * k;
    if (entry + 12 > tiff.byteLength) return 1;
    if (tiff.getUint16(entry, little) !== ORIENTATION) continue;
    const orientation = tiff.getUint16(entry + 8, little);
    return orientation >= 1 && orientation <= 8 ? orientation : 1;
  }
  return 1;
}
