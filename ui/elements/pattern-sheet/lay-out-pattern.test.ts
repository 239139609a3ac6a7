import { describe, expect, it } from 'vitest';
import { boxOfMark, FOOT_MM, MARGIN_MM, PAPER_NAMES, SIDE_MM } from '../../../catalog-schema/gauge-sheet/index.ts';
import { PX_PER_MM_TRUE } from '../../drawing/index.ts';
import { layOutPattern } from './lay-out-pattern.ts';

const lay = (paper: 'a4' | 'letter', widthMm: number, heightMm: number) => layOutPattern({
  paper, widthPx: widthMm * PX_PER_MM_TRUE, heightPx: heightMm * PX_PER_MM_TRUE, title: 'Start relay, universal', scale: 'Print at 100 %.', lines: ['grey: old; ink: new'], tooLarge: 'larger than the paper',
});

describe.each(PAPER_NAMES)('a pattern on %s', (paper) => {
  it('keeps its size and lies between head, foot and the bar at the side', () => {
    const { place, widthMm, heightMm } = lay(paper, 90, 60);
    expect(place).toMatchObject({ turned: false });
    expect(place!.widthMm).toBeCloseTo(90, 9);
    expect(place!.heightMm).toBeCloseTo(60, 9);
    expect(place!.x).toBeGreaterThanOrEqual(MARGIN_MM + SIDE_MM);
    expect(place!.x + 90).toBeLessThanOrEqual(widthMm - MARGIN_MM);
    expect(place!.y + 60).toBeLessThanOrEqual(heightMm - MARGIN_MM - FOOT_MM);
  });

  it('is turned where it only fits so, and not drawn where it fits in no way', () => {
    expect(lay(paper, 180, 90).place).toMatchObject({ turned: true, widthMm: expect.closeTo(180, 6) as number });
    expect(lay(paper, 300, 300).place).toBeUndefined();
  });

  it('has the gauge sheet\'s bars, 100 mm across and down, and no mark off the page', () => {
    const { marks, widthMm, heightMm } = lay(paper, 90, 60);
    for (const name of ['bar 100 mm', 'bar 100 mm down']) {
      const bar = marks.find((mark) => mark.kind === 'line' && mark.shows === name)!;
      const { left, right, top, bottom } = boxOfMark(bar);
      expect(Math.max(right - left, bottom - top)).toBeCloseTo(100, 9);
    }
    for (const mark of marks) {
      const { left, right, top, bottom } = boxOfMark(mark);
      expect(Math.min(left, top)).toBeGreaterThanOrEqual(MARGIN_MM - 1);
      expect(right).toBeLessThanOrEqual(widthMm - MARGIN_MM + 1);
      expect(bottom).toBeLessThanOrEqual(heightMm - MARGIN_MM + 1);
    }
  });
});
