import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { overlapArea } from './geometry.ts';
import { breakLines, placeLabels, textWidth } from './label-placing.ts';
import { layLabelRows, spreadApart } from './spread.ts';

const bounds = { left: 0, top: 0, right: 400, bottom: 300 };
const at = (x: number, y: number) => ({ left: x - 10, right: x + 10, top: y - 10, bottom: y + 10 });

describe('labels beside things', () => {
  it('stand on the side they prefer when nothing is in the way', () => {
    const [place] = placeLabels([{ id: 'a', by: at(200, 150), width: 40, height: 20, prefer: ['right'] }], { boxes: [], lines: [] }, bounds);
    expect(place?.side).toBe('right');
    expect(place?.clear).toBe(true);
  });

  it('go elsewhere when a symbol or a wire is there', () => {
    const wish = { id: 'a', by: at(200, 150), width: 40, height: 20, prefer: ['right'] as const };
    const [offBox] = placeLabels([wish], { boxes: [at(235, 150)], lines: [] }, bounds);
    expect(offBox?.side).not.toBe('right');
    const [offWire] = placeLabels([wish], { boxes: [], lines: [{ points: [{ x: 230, y: 0 }, { x: 230, y: 300 }], half: 4 }] }, bounds);
    expect(offWire?.side).not.toBe('right');
    expect(offWire?.clear).toBe(true);
  });

  it('stay within the sheet', () => {
    const [place] = placeLabels([{ id: 'a', by: at(12, 12), width: 60, height: 30, prefer: ['left', 'above'] }], { boxes: [], lines: [] }, bounds);
    expect(place!.box.left).toBeGreaterThanOrEqual(0);
    expect(place!.box.top).toBeGreaterThanOrEqual(0);
  });

  it('never cover one another on a face with room for all', () => {
    const wishes = [[80, 80], [160, 80], [80, 190], [160, 190]].map(([x, y], i) => ({ id: String(i), by: at(x!, y!), width: 56, height: 36 }));
    const places = placeLabels(wishes, { boxes: wishes.map((w) => w.by), lines: [] }, bounds);
    places.forEach((a, i) => places.slice(i + 1).forEach((b) => expect(overlapArea(a.box, b.box)).toBe(0)));
    expect(places.every((p) => p.clear)).toBe(true);
  });

  it('say so when there is no clear place', () => {
    const [place] = placeLabels([{ id: 'a', by: at(20, 20), width: 300, height: 200 }], { boxes: [], lines: [] }, { left: 0, top: 0, right: 40, bottom: 40 });
    expect(place?.clear).toBe(false);
  });
});

describe('spreading along a line', () => {
  it('leaves places alone that are far enough apart', () => {
    expect(spreadApart([10, 50, 90], [20, 20], 0, 100)).toEqual([10, 50, 90]);
  });

  it('parts two that want the same place, each by half', () => {
    expect(spreadApart([50, 50], [20], 0, 100)).toEqual([40, 60]);
  });

  it('keeps order, gaps and ends for any wishes that fit', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 1, maxLength: 8 }), (raw) => {
      const wanted = [...raw].sort((a, b) => a - b);
      const placed = spreadApart(wanted, Array<number>(wanted.length).fill(10), 0, 100);
      expect(placed[0]).toBeGreaterThanOrEqual(-1e-9);
      expect(placed.at(-1)).toBeLessThanOrEqual(100 + 1e-9);
      placed.forEach((p, i) => { if (i > 0) expect(p - placed[i - 1]!).toBeGreaterThanOrEqual(10 - 1e-9); });
    }), { seed: 7, numRuns: 200 });
  });

  it('shares the shortage when the line is too short', () => {
    expect(spreadApart([0, 0, 0], [100, 100], 0, 100)).toEqual([0, 50, 100]);
  });
});

describe('rows of wire labels', () => {
  const noneCovered = (wanted: readonly number[], width: number, box: number): void => {
    const rows = layLabelRows(wanted, width, box, 8)!;
    rows.forEach((a, i) => {
      expect(a.left).toBeGreaterThanOrEqual(-1e-9);
      expect(a.right).toBeLessThanOrEqual(width + 1e-9);
      expect(a.lane).toBeGreaterThanOrEqual(a.left);
      expect(a.lane).toBeLessThanOrEqual(a.right);
      rows.forEach((b, j) => {
        if (i === j) return;
        if (a.row === b.row) expect(Math.min(a.right, b.right) - Math.max(a.left, b.left)).toBeLessThanOrEqual(1e-9);
        // A line to the far row must not run through a label of the near row.
        if (a.row === 1 && b.row === 0) expect(a.lane <= b.left - 4 || a.lane >= b.right + 4).toBe(true);
      });
    });
  };

  it('take one row while they fit beside each other on a phone', () => {
    const rows = layLabelRows([60, 70, 300], 358, 112, 8)!;
    expect(rows.map((r) => r.row)).toEqual([0, 0, 0]);
    noneCovered([60, 70, 300], 358, 112);
  });

  it('take two rows beyond that, the lines of the far row between the near labels', () => {
    for (const n of [4, 5]) {
      const wanted = Array.from({ length: n }, (_, i) => 100 + i * 30);
      expect(Math.max(...layLabelRows(wanted, 358, 112, 8)!.map((r) => r.row))).toBe(1);
      noneCovered(wanted, 358, 112);
    }
  });

  it('refuse when two rows do not hold them, so that shorter labels are tried', () => {
    expect(layLabelRows(Array.from({ length: 12 }, (_, i) => i * 30), 358, 112, 8)).toBeNull();
  });
});

describe('text', () => {
  it('breaks at spaces only', () => {
    expect(breakLines('never a washer between', 14, textWidth('never a washer', 14) + 1)).toEqual(['never a washer', 'between']);
    expect(breakLines('interlocked', 14, 10)).toEqual(['interlocked']);
  });
});
