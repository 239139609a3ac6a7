import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printWireCode, readWireCode } from './wire-code.ts';

const jobId = '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b';

describe('the text of a wire\'s code', () => {
  it('names version, job and tag', () => {
    expect(printWireCode(jobId, 'W1')).toBe('LW1:3F1C2F6E8A544C1E9D3B5A6F7E8D9C0B:W1');
  });

  it('of a plain tag holds only what the alphanumeric mode of QR takes', () => {
    // Source: ISO/IEC 18004, the 45 characters of the alphanumeric mode (from memory).
    expect(printWireCode(jobId, 'W12')).toMatch(/^[0-9A-Z $%*+\-./:]+$/);
  });

  it('is read back to the same wire, whatever the tag', () => {
    fc.assert(fc.property(fc.uuid(), fc.string({ minLength: 1, maxLength: 40, unit: 'grapheme' }), (id, tag) => {
      expect(readWireCode(printWireCode(id, tag))).toEqual({ jobId: id, tag });
    }));
  });

  it('is read as a scanner with another keyboard layout types it, in small letters, with an end of line', () => {
    expect(readWireCode('lw1;3f1c2f6e8a544c1e9d3b5a6f7e8d9c0b;w1\r\n')).toEqual({ jobId, tag: 'w1' });
  });

  it.each(['', 'LW1', 'LW1:', 'LW1:3F1C:W1', 'LW2:3F1C2F6E8A544C1E9D3B5A6F7E8D9C0B:W1', 'LW1:3F1C2F6E8A544C1E9D3B5A6F7E8D9C0B:', 'LW1:3F1C2F6E8A544C1E9D3B5A6F7E8D9C0B:%E0%A4', 'https://example.org/LW1:3F1C2F6E8A544C1E9D3B5A6F7E8D9C0B:W1'])(
    'is not seen in %j', (text) => {
      expect(readWireCode(text)).toBeUndefined();
    });
});
