import type { PictureSize } from './picture-size.ts';

// Source: ISO/IEC 15948 (PNG), clause 5: signature and chunks (from memory).

/** Walks a PNG's chunks from the header to the end mark. Check sums are left to whoever decodes it. */
export function readPng(bytes: Uint8Array): PictureSize {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  let size: { widthPx: number; heightPx: number } | undefined;
  let hasData = false;
  let at = 8;
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (at + 12 + length > bytes.length) break;
    if (size === undefined && name !== 'IHDR') return { broken: 'a PNG picture that is damaged' };
    if (name === 'IHDR' && length >= 8) size = { widthPx: view.getUint32(at + 8), heightPx: view.getUint32(at + 12) };
    hasData ||= name === 'IDAT';
    if (name === 'IEND') return size && hasData ? { ...size, turned: false } : { broken: 'a PNG picture without its picture' };
    at += 12 + length;
  }
  return { broken: 'a PNG picture that is cut off' };
}
