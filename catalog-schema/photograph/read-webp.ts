import type { PictureSize } from './picture-size.ts';

// Source: RFC 9649 (WebP container and lossless), RFC 6386 section 9.1 (key frame header of the lossy kind) (from memory).

/** Reads a WebP's container: the size its first chunk gives, and whether the bytes reach as far as it says. */
export function readWebp(bytes: Uint8Array): PictureSize {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  if (bytes.length < 30 || view.getUint32(4, true) + 8 > bytes.length) return { broken: 'a WebP picture that is cut off' };
  switch (String.fromCharCode(...bytes.subarray(12, 16))) {
    case 'VP8 ': return { widthPx: view.getUint16(26, true) & 0x3fff, heightPx: view.getUint16(28, true) & 0x3fff, turned: false };
    case 'VP8L': {
      const bits = view.getUint32(21, true);
      return { widthPx: (bits & 0x3fff) + 1, heightPx: ((bits >>> 14) & 0x3fff) + 1, turned: false };
    }
    case 'VP8X': return { widthPx: (view.getUint32(24, true) & 0xffffff) + 1, heightPx: (view.getUint32(26, true) >>> 8) + 1, turned: false };
    default: return { broken: 'a WebP picture that is damaged' };
  }
}
