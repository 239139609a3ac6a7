import { describe, expect, it } from 'vitest';
import { printWireCode, type ShelfCode, type WireCode } from '../../catalog-schema/index.ts';
import { listenForScans } from './listen-for-scans.ts';

const jobId = '3f1c2f6e-8a54-4c1e-9d3b-5a6f7e8d9c0b';

/** Types into a page made for the test; each key `pauseMs` after the one before. */
function type(text: string, { pauseMs = 8, field, meta = false }: { pauseMs?: number; field?: string; meta?: boolean } = {}): { codes: (WireCode | ShelfCode)[]; others: string[]; prevented: boolean } {
  const target = new EventTarget();
  const codes: (WireCode | ShelfCode)[] = [];
  const others: string[] = [];
  listenForScans(target, (code) => codes.push(code), (text) => others.push(text));
  let prevented = false;
  [...text, 'Enter'].forEach((key, k) => {
    const event = new Event('keydown', { cancelable: true });
    Object.defineProperties(event, {
      key: { value: key }, timeStamp: { value: 1_000 + k * pauseMs }, metaKey: { value: meta }, ctrlKey: { value: false }, altKey: { value: false },
      composedPath: { value: () => [field === undefined ? {} : { localName: field }] },
    });
    target.dispatchEvent(event);
    prevented ||= event.defaultPrevented;
  });
  return { codes, others, prevented };
}

describe('a hand scanner that types', () => {
  it('is heard when it types a wire\'s code and Enter, which then presses nothing else', () => {
    expect(type(printWireCode(jobId, 'W7'))).toEqual({ codes: [{ jobId, tag: 'W7' }], others: [], prevented: true });
  });

  it('is heard when it types the code of a bin or a part', () => {
    expect(type('LB1:C4').codes).toEqual([{ kind: 'bin', bin: 'C4' }]);
    expect(type('xlp1;relay-12').codes).toEqual([{ kind: 'part', partId: 'relay-12' }]);
  });

  it('is heard after something was typed by hand before it', () => {
    expect(type(`x${printWireCode(jobId, 'W7')}`).codes).toEqual([{ jobId, tag: 'W7' }]);
    const target = new EventTarget();
    const codes: (WireCode | ShelfCode)[] = [];
    listenForScans(target, (code) => codes.push(code), () => undefined);
    const press = (key: string, timeStamp: number): void => {
      const event = new Event('keydown');
      Object.defineProperties(event, { key: { value: key }, timeStamp: { value: timeStamp }, composedPath: { value: () => [{}] } });
      target.dispatchEvent(event);
    };
    press('x', 100);
    [...printWireCode(jobId, 'W7'), 'Enter'].forEach((key, k) => press(key, 900 + 8 * k));
    expect(codes).toEqual([{ jobId, tag: 'W7' }]);
  });

  it.each([
    ['typed with pauses, as by a hand', { pauseMs: 700 }], ['that goes into a field', { field: 'input' }], ['with a command key held', { meta: true }],
  ])('is not seen in a code %s', (_what, how) => {
    expect(type(printWireCode(jobId, 'W7'), how)).toEqual({ codes: [], others: [], prevented: false });
  });

  it('hands on a number that came faster than a hand types', () => {
    expect(type('6291041500213')).toEqual({ codes: [], others: ['6291041500213'], prevented: true });
  });

  it('leaves Enter alone after what a hand typed, and after a few signs', () => {
    expect(type('6291041500213', { pauseMs: 90 })).toEqual({ codes: [], others: [], prevented: false });
    expect(type('ab12')).toEqual({ codes: [], others: [], prevented: false });
  });
});
