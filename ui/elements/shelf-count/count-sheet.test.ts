import { beforeEach, describe, expect, it } from 'vitest';
import type { StockRow } from '../../../catalog-schema/index.ts';
import { CountSheet } from './count-sheet.ts';

const row = (bin: string, onHand: number, seq = 5): StockRow => ({ partId: 'p', bin, onHand, reserved: 0, free: onHand, unitCost: 2, currency: 'EUR', seq });
let disk: Map<string, string>;
const storage = { getItem: (key: string) => disk.get(key) ?? null, setItem: (key: string, value: string) => void disk.set(key, value), removeItem: (key: string) => void disk.delete(key) };
beforeEach(() => { disk = new Map(); });
const begin = (scope?: string): CountSheet => new CountSheet({ scope, at: '2026-11-25T10:00:00Z' }, storage);

describe('a count', () => {
  it('adds one for each scan, and takes what is typed as it is', () => {
    const sheet = begin('A1');
    expect(sheet.here).toBe('A1');
    expect([sheet.addOne('p', 'A1', row('A1', 3), 't1'), sheet.addOne('p', 'A1', row('A1', 3), 't2')]).toEqual([1, 2]);
    sheet.set('p', 'A1', 9, row('A1', 3), 't3');
    expect(sheet.rows).toEqual([{ partId: 'p', bin: 'A1', counted: 9, booked: 3, knownSeq: 5, at: 't3' }]);
    sheet.set('p', 'A1', undefined, row('A1', 3), 't4');
    expect(sheet.rows).toEqual([]);
  });

  it('becomes moves that carry what the books said at each count, rows that agree among them', () => {
    const sheet = begin();
    sheet.set('p', 'A1', 3, row('A1', 3), 't1');
    sheet.addOne('q', 'Z9', undefined, 't2');
    expect(sheet.moves('yearly')).toEqual([
      { at: 't1', move: { kind: 'count', partId: 'p', bin: 'A1', qty: 3, knownSeq: 5, reason: 'yearly' } },
      { at: 't2', move: { kind: 'count', partId: 'q', bin: 'Z9', qty: 1, knownSeq: 0, reason: 'yearly' } },
    ]);
  });

  it('is there again after the page was closed, until it is ended', () => {
    const sheet = begin();
    sheet.goTo('B2');
    sheet.set('p', 'B2', 0, row('B2', 1), 't1');
    const again = CountSheet.restore(storage)!;
    expect([again.scope, again.here, again.begun, again.rows]).toEqual([undefined, 'B2', '2026-11-25T10:00:00Z', sheet.rows]);
    again.end();
    expect(CountSheet.restore(storage)).toBeUndefined();
  });

  it('goes on without a storage, and passes over one that was spoiled', () => {
    const sheet = new CountSheet({ scope: 'A1', at: 't' }, undefined);
    expect(sheet.addOne('p', 'A1', undefined, 't')).toBe(1);
    disk.set('lugwright.count', '{"rows":3}');
    expect(CountSheet.restore(storage)).toBeUndefined();
    disk.set('lugwright.count', '{');
    expect(CountSheet.restore(storage)).toBeUndefined();
  });
});
