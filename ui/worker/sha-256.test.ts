import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { hashBytes } from './sha-256.ts';

const text = (words: string): Uint8Array => new TextEncoder().encode(words);

describe('the hash of bytes', () => {
  // Source: FIPS 180-4 example values as published by NIST (from memory).
  it.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    ['abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq', '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1'],
  ])('of “%s” is the published one', (words, hash) => {
    expect(hashBytes(text(words))).toBe(hash);
  });

  it('is that of the server for every length about a block, and for many bytes', () => {
    for (const length of [...Array.from({ length: 130 }, (_, k) => k), 1_000_003]) {
      const bytes = Uint8Array.from({ length }, (_, k) => (k * 31 + length) & 255);
      expect(hashBytes(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'));
    }
  });
});
