import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printWireCode, readWireCode } from '../job/wire-code.ts';
import { printShelfCode, readShelfCode } from './shelf-code.ts';

describe('the code of a shelf\'s label', () => {
  it('says whether it is a bin or a part, in letters a scanner packs closest', () => {
    expect(printShelfCode({ kind: 'bin', bin: 'C4' })).toBe('LB1:C4');
    expect(printShelfCode({ kind: 'part', partId: 'relay 12 V' })).toBe('LP1:relay%2012%20V');
  });

  it('is read back whatever the name', () => {
    const name = fc.string({ minLength: 1, maxLength: 60, unit: 'binary' }).filter((text) => text.trim() === text && !/[\n\r\p{Surrogate}]/u.test(text));
    fc.assert(fc.property(name, (text) => {
      expect(readShelfCode(printShelfCode({ kind: 'bin', bin: text }))).toEqual({ kind: 'bin', bin: text });
      expect(readShelfCode(printShelfCode({ kind: 'part', partId: text }))).toEqual({ kind: 'part', partId: text });
    }));
  });

  it.each(['lb1:C4', 'LB1;C4', 'LB1>C4', '  LB1:C4\t'])('is read from a scanner that types %j', (typed) => {
    expect(readShelfCode(typed)).toEqual({ kind: 'bin', bin: 'C4' });
  });

  it.each(['', 'LB1:', 'LB2:C4', 'LB1C4', 'C4', 'LP1:%E0%A4', printWireCode('3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b', 'W1')])('is not seen in %j', (text) => {
    expect(readShelfCode(text)).toBeUndefined();
  });

  it('is no wire\'s code', () => {
    expect(readWireCode(printShelfCode({ kind: 'bin', bin: 'C4' }))).toBeUndefined();
  });
});
