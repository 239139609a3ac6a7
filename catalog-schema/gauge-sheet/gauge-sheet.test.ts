import { describe, expect, it } from 'vitest';
import { CLEARANCE_HOLES, TABS, THREADS } from '../reference/index.ts';
import { boxOfMark, layOutGaugeSheet, MARGIN_MM, PAPER_NAMES, PAPERS, type Box, type Mark, type PaperName } from './index.ts';

const marksOf = (paper: PaperName): Mark[] => layOutGaugeSheet(paper).pages.flatMap((page) => [...page.marks]);
const shown = (paper: PaperName, kind: string): Map<string, Mark> => new Map(marksOf(paper).flatMap((mark) =>
  mark.kind !== 'text' && mark.shows?.startsWith(`${kind} `) ? [[mark.shows.slice(kind.length + 1), mark] as const] : []));
const sizeOf = ({ left, right, top, bottom }: Box): [number, number] => [right - left, bottom - top];
const polygon = (mark: Mark | undefined): readonly (readonly [number, number])[] => {
  if (mark?.kind !== 'polygon') throw new Error('not a polygon');
  return mark.points;
};
/** Shared inner area; a tick that ends on its bar touches it and does not lie over it. */
const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right - 1e-6 && b.left < a.right - 1e-6 && a.top < b.bottom - 1e-6 && b.top < a.bottom - 1e-6;

describe.each(PAPER_NAMES)('the gauge sheet on %s', (paper) => {
  const { pages } = layOutGaugeSheet(paper);

  it('has pages of the paper’s size', () => {
    for (const page of pages) expect([page.widthMm, page.heightMm]).toEqual([PAPERS[paper].widthMm, PAPERS[paper].heightMm]);
  });

  it('draws everything where a printer reaches', () => {
    for (const page of pages) for (const mark of page.marks) {
      const box = boxOfMark(mark);
      expect(box.left, JSON.stringify(mark)).toBeGreaterThanOrEqual(MARGIN_MM);
      expect(box.top, JSON.stringify(mark)).toBeGreaterThanOrEqual(MARGIN_MM);
      expect(box.right, JSON.stringify(mark)).toBeLessThanOrEqual(page.widthMm - MARGIN_MM);
      expect(box.bottom, JSON.stringify(mark)).toBeLessThanOrEqual(page.heightMm - MARGIN_MM);
    }
  });

  it('draws no mark over another', () => {
    for (const page of pages) {
      const boxes = page.marks.map((mark) => ({ mark, box: boxOfMark(mark) }));
      const over = boxes.flatMap((a, index) => boxes.slice(index + 1).filter((b) => overlap(a.box, b.box)).map((b) => [a.mark, b.mark]));
      expect(over).toEqual([]);
    }
  });

  it('carries on every page bars of 100 mm both ways and of 4 in', () => {
    for (const page of pages) {
      const bars = page.marks.filter((mark) => mark.kind === 'line' && mark.shows?.startsWith('bar'));
      // 1 in is 25.4 mm exactly (international yard and pound agreement, 1959).
      expect(bars.map((bar) => sizeOf(boxOfMark(bar)).map((mm) => Number(mm.toFixed(9))))).toEqual([[100, 0], [101.6, 0], [0, 100]]);
    }
  });

  it('draws the hole of every bolt of the table at its true diameter', () => {
    const holes = shown(paper, 'hole');
    expect([...holes.keys()].toSorted()).toEqual(CLEARANCE_HOLES.map((row) => row.bolt).toSorted());
    for (const row of CLEARANCE_HOLES) expect(holes.get(row.bolt)).toMatchObject({ kind: 'circle', diameterMm: row.holeMm.normal });
    // ISO 273: medium clearance hole for M6 is 6.6 mm, for M8 9 mm.
    expect(holes.get('M6')).toMatchObject({ diameterMm: 6.6 });
    expect(holes.get('M8')).toMatchObject({ diameterMm: 9 });
  });

  it('draws every stud of the table once, at its nominal diameter', () => {
    const studs = shown(paper, 'stud');
    expect([...studs.keys()].toSorted()).toEqual([...new Set(THREADS.map((row) => row.size))].toSorted());
    for (const row of THREADS) expect(studs.get(row.size)).toMatchObject({ kind: 'circle', diameterMm: row.majorMm });
    // ASME B1.1: 5/16 in is 7.9375 mm, number 10 is 0.190 in.
    expect(studs.get('5/16')).toMatchObject({ diameterMm: 7.9375 });
    expect(studs.get('#10')).toMatchObject({ diameterMm: 4.826 });
  });

  it('draws face and end of every tab at true width and thickness', () => {
    const tabs = shown(paper, 'tab');
    expect(tabs.size).toBe(2 * TABS.length);
    for (const row of TABS) {
      expect(sizeOf(boxOfMark(tabs.get(`face ${row.name}`)!))[0]).toBeCloseTo(row.widthMm, 9);
      const [width, thickness] = sizeOf(boxOfMark(tabs.get(`end ${row.name}`)!));
      expect(width).toBeCloseTo(row.widthMm, 9);
      expect(thickness).toBeCloseTo(row.thicknessMm, 9);
    }
    // IEC 61210: the widths 2.8, 4.8, 6.3 and 9.5 mm.
    expect(new Set(TABS.map((row) => row.widthMm))).toEqual(new Set([2.8, 4.8, 6.3, 9.5]));
  });

  it('draws hexagons whose three pairs of flats are the width apart', () => {
    const hexagons = shown(paper, 'hexagon');
    const widths = [...hexagons.values()].map((mark) => sizeOf(boxOfMark(mark))[1]);
    // The tables round inches to a thousandth: half of it is 0.013 mm.
    for (const { mm } of THREADS.flatMap((row) => row.acrossFlatsMm)) expect(Math.min(...widths.map((width) => Math.abs(width - mm)))).toBeLessThan(0.0131);
    // ISO 4032: M8 takes 13 mm; ASME B18.2.2: 1/4 takes 7/16 in.
    for (const [name, mm] of [['13 mm', 13], ['10 mm', 10], ['7/16 in', 11.1125], ['1/2 in', 12.7]] as const) {
      const points = polygon(hexagons.get(name));
      for (const side of [0, 1, 2]) {
        const middle = (index: number): [number, number] => {
          const [ax, ay] = points[index % 6]!;
          const [bx, by] = points[(index + 1) % 6]!;
          return [(ax + bx) / 2, (ay + by) / 2];
        };
        const [ax, ay] = middle(side);
        const [bx, by] = middle(side + 3);
        expect(Math.hypot(ax - bx, ay - by), name).toBeCloseTo(mm, 9);
      }
    }
  });

  it('draws a comb for every pitch, its crests one pitch apart and its flanks at 60 degrees', () => {
    const combs = shown(paper, 'comb');
    const pitches = new Map(THREADS.map((row) =>
      [row.name.startsWith('M') ? `${row.pitchMm} mm` : `${Math.round(25.4 / row.pitchMm)} to the inch`, row.pitchMm]));
    expect([...combs.keys()].toSorted()).toEqual([...pitches.keys()].toSorted());
    for (const [name, pitchMm] of pitches) {
      const points = polygon(combs.get(name));
      const top = Math.min(...points.map(([, y]) => y));
      const crests = points.filter(([, y]) => y - top < 1e-9);
      expect(crests.length).toBeGreaterThanOrEqual(15);
      crests.slice(1).forEach(([x], index) => expect(x - crests[index]![0]).toBeCloseTo(pitchMm, 9));
      const at = points.indexOf(crests[1]!);
      const angle = (to: readonly [number, number]): number => Math.atan2(to[1] - crests[1]![1], to[0] - crests[1]![0]);
      expect(((angle(points[at - 1]!) - angle(points[at + 1]!)) * 180) / Math.PI).toBeCloseTo(60, 6);
    }
  });
});
