import { describe, expect, it } from 'vitest';
import { PAPER_NAMES } from '../../../catalog-schema/gauge-sheet/index.ts';
import { layOutLabels, moduleOf } from './lay-out-labels.ts';

const labels = Array.from({ length: 70 }, (_, k) => ({ large: `C${k}`, lines: [k === 3 ? 'Start relay with a name that is far too long for any label that anybody would want to cut out of paper' : 'Start relay', 'sr-1'] }));

describe.each(PAPER_NAMES)('a sheet of labels on %s', (paper) => {
  it.each(['qr', 'code128'] as const)('has every label once, in order, whole on the paper and clear of its neighbours: %s', (kind) => {
    const pages = layOutLabels({ labels, kind, paper, title: 'Labels', bar: '50 mm' });
    const places = pages.flatMap((page) => page.places);
    expect(places.map(({ index }) => index)).toEqual(labels.map((_, k) => k));
    for (const { places: own, widthMm, heightMm, marks } of pages) {
      for (const mark of marks) {
        if (mark.kind === 'line') expect(Math.max(mark.x1, mark.x2) <= widthMm && Math.max(mark.y1, mark.y2) <= heightMm && Math.min(mark.x1, mark.y1) >= 0).toBe(true);
      }
      for (const { code } of own) {
        expect(code.xMm >= 0 && code.yMm >= 0 && code.xMm + code.widthMm <= widthMm && code.yMm + code.heightMm < heightMm - 15).toBe(true);
        for (const { code: other } of own) {
          if (other === code) continue;
          const apart = Math.abs(other.xMm - code.xMm) >= code.widthMm || Math.abs(other.yMm - code.yMm) >= code.heightMm;
          expect(apart).toBe(true);
        }
      }
    }
  });
});

it('words that do not go on a label are cut, and say so', () => {
  const words = layOutLabels({ labels, kind: 'qr', paper: 'a4', title: 'Labels', bar: '' })[0]!.marks.flatMap((mark) => (mark.kind === 'text' ? [mark.words] : []));
  expect(words.filter((line) => line.endsWith('…'))).toHaveLength(1);
});

it('a code is drawn at its size where it goes on the label, else smaller', () => {
  expect(moduleOf('qr', 33, 33, { widthMm: 23, heightMm: 25 })).toBe(0.5);
  expect(moduleOf('qr', 61, 61, { widthMm: 23, heightMm: 25 })).toBeCloseTo(23 / 61);
});
