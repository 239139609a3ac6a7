import { describe, expect, it } from 'vitest';
import { proposeTag } from './next-tag.ts';
import { addTerminal, layTerminals, usualCounts } from './terminal-layout.ts';

describe('a first drawing of terminals', () => {
  it('names studs and tabs A, B, C and gives each a place of its own', () => {
    for (const place of ['above', 'between', 'below'] as const) {
      const laid = layTerminals({ studs: 2, tabs: 2, place });
      expect(laid.map((terminal) => terminal.id)).toEqual(['A', 'B', 'C', 'D']);
      expect(new Set(laid.map(({ at }) => `${at!.xMm},${at!.yMm}`)).size).toBe(4);
    }
  });

  it('puts the tabs above or below the studs as said, y up', () => {
    const tabY = (place: 'above' | 'below'): number => layTerminals({ studs: 2, tabs: 1, place })[2]!.at!.yMm;
    expect(tabY('above')).toBeGreaterThan(0);
    expect(tabY('below')).toBeLessThan(0);
  });

  it('stands four tabs without a stud two and two, as on a plug-in relay', () => {
    const laid = layTerminals(usualCounts('plug-in-relay'));
    expect(laid).toHaveLength(4);
    expect(laid.every((terminal) => terminal.form === 'tab')).toBe(true);
    expect(new Set(laid.map(({ at }) => at!.yMm)).size).toBe(2);
  });

  it('adds a terminal under the next free letter, right of all others', () => {
    const laid = layTerminals({ studs: 2, tabs: 0, place: 'above' });
    const added = addTerminal(laid.filter((terminal) => terminal.id !== 'A'), 'tab');
    expect(added.id).toBe('A');
    expect(added.at!.xMm).toBeGreaterThan(laid[1]!.at!.xMm);
    expect(addTerminal([], 'stud').id).toBe('A');
  });
});

describe('the tag proposed for a wire', () => {
  it('is the lowest that is free', () => {
    expect(proposeTag([])).toBe('W1');
    expect(proposeTag(['W1', 'W3'])).toBe('W2');
    expect(proposeTag(['W1', 'red one'])).toBe('W2');
  });

  it('follows bare numbers where a record uses them', () => {
    expect(proposeTag(['1', '2'])).toBe('3');
  });
});
