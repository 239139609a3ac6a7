import { describe, expect, it } from 'vitest';
import { printFault } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import { readPhotograph } from './read-photograph.ts';
import { SAMPLE_JPEG, SAMPLE_LOSSLESS_WEBP, SAMPLE_PNG, SAMPLE_PROGRESSIVE, SAMPLE_WEBP, turnJpeg } from './sample-pictures.ts';

const text = (words: string): Uint8Array => new TextEncoder().encode(words);
const faultOf = (bytes: Uint8Array): string => {
  const read = readPhotograph(bytes);
  return read.ok ? 'taken' : read.faults.map(printFault).join('\n');
};

const WHOLE: [string, Uint8Array, string][] = [
  ['a JPEG', SAMPLE_JPEG, 'image/jpeg'], ['a progressive JPEG', SAMPLE_PROGRESSIVE, 'image/jpeg'], ['a PNG', SAMPLE_PNG, 'image/png'],
  ['a WebP', SAMPLE_WEBP, 'image/webp'], ['a lossless WebP', SAMPLE_LOSSLESS_WEBP, 'image/webp'],
];

describe('a photograph', () => {
  it.each(WHOLE)('is read as what its bytes are: %s', (_what, bytes, type) => {
    expect(readPhotograph(bytes)).toEqual({ ok: true, value: { type, widthPx: 12, heightPx: 8 } });
  });

  it.each(WHOLE)('is refused when it is cut off anywhere: %s', (_what, bytes) => {
    for (let length = 12; length < bytes.length; length++) expect(faultOf(bytes.subarray(0, length)), String(length)).toMatch(/^input: found a .* picture .*, want a whole picture$/);
  });

  it.each([1, 2, 3, 4])('stands upright at orientation %i', (orientation) => {
    expect(readPhotograph(turnJpeg(SAMPLE_JPEG, orientation))).toMatchObject({ value: { widthPx: 12, heightPx: 8 } });
  });

  it.each([5, 6, 7, 8])('is turned on its side by Exif at orientation %i, in either order of bytes', (orientation) => {
    for (const order of ['II', 'MM'] as const) expect(readPhotograph(turnJpeg(SAMPLE_JPEG, orientation, order))).toMatchObject({ value: { widthPx: 8, heightPx: 12 } });
  });

  it.each([0, 9, 65535])('is upright where its orientation is %i, which means nothing', (orientation) => {
    expect(readPhotograph(turnJpeg(SAMPLE_JPEG, orientation))).toMatchObject({ value: { widthPx: 12 } });
  });

  it('may carry more after its end, as telephones do', () => {
    expect(readPhotograph(Uint8Array.from([...SAMPLE_JPEG, 1, 2, 3])).ok).toBe(true);
  });

  it('is refused in words when it is nothing, text, another kind of file, or damaged', () => {
    expect(faultOf(new Uint8Array())).toBe('input: found nothing, want a photograph: JPEG, PNG or WebP');
    expect(faultOf(text('this is no picture'))).toBe('input: found text, want a photograph: JPEG, PNG or WebP');
    expect(faultOf(text('\0\0\0\x18ftypheic\0\0\0\0'))).toContain('found a picture of type HEIC');
    expect(faultOf(text('GIF89a\x0c\0\x08\0'))).toContain('found a picture of type GIF');
    expect(faultOf(text('%PDF-1.7\n'))).toContain('found a PDF file');
    expect(faultOf(Uint8Array.of(1, 2, 3))).toContain('found a file that is no picture');
    expect(faultOf(SAMPLE_JPEG.with(2, 0))).not.toBe('taken');
    expect(faultOf(Uint8Array.from([0xff, 0xd8, 0xff, 0xd9]))).toBe('input: found a JPEG picture without its picture, want a whole picture');
  });

  it('is taken at the limit of its size and refused one byte above', () => {
    const padded = (bytes: number): Uint8Array => {
      const whole = new Uint8Array(bytes);
      whole.set(SAMPLE_JPEG);
      return whole;
    };
    expect(faultOf(padded(LIMITS.photographBytes))).toBe('taken');
    expect(faultOf(padded(LIMITS.photographBytes + 1))).toBe('input: found 20000001 bytes, want at most 20000000 bytes');
  });

  it('is refused where its header claims an absurd size', () => {
    const huge = SAMPLE_PNG.slice();
    new DataView(huge.buffer).setUint32(16, 100_000);
    expect(faultOf(huge)).toBe('input: found a picture of 100000 x 8 px, want 1 to 16384 px each way');
  });

  it('never fails on whatever bytes', () => {
    let state = 7;
    const random = () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
    for (const [, bytes] of WHOLE) {
      for (let k = 0; k < 2_000; k++) {
        const spoilt = bytes.slice(0, 1 + Math.floor(random() * bytes.length));
        for (let n = 0; n < 3; n++) spoilt[Math.floor(random() * spoilt.length)] = Math.floor(random() * 256);
        expect(typeof readPhotograph(spoilt).ok).toBe('boolean');
      }
    }
  });
});
