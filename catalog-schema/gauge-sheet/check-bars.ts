import { GAUGE_WORDS } from './gauge-words.ts';
import type { Mark } from './mark.ts';
import { MARGIN_MM } from './paper.ts';

/** Height of the strip at the foot and width of the strip at the left that the bars need, mm. */
export const FOOT_MM = 22;
export const SIDE_MM = 16;

const SMALL_MM = 2.4;

/** The bars a printer is checked by: 100 mm and 4 in across the foot, 100 mm down the left. On every page, since pages part. */
export function drawCheckBars(heightMm: number): Mark[] {
  const left = MARGIN_MM + SIDE_MM;
  const millimetres = heightMm - MARGIN_MM - 8.5;
  const inches = millimetres + 1.5;
  const side = MARGIN_MM + 5;
  const top = 60;
  const marks: Mark[] = [
    { kind: 'line', x1: left, y1: millimetres, x2: left + 100, y2: millimetres, weight: 'gauge', shows: 'bar 100 mm' },
    { kind: 'line', x1: left, y1: inches, x2: left + 4 * 25.4, y2: inches, weight: 'gauge', shows: 'bar 4 in' },
    { kind: 'line', x1: side, y1: top, x2: side, y2: top + 100, weight: 'gauge', shows: 'bar 100 mm down' },
    { kind: 'text', x: left + 104, y: millimetres - 0.6, sizeMm: 2.7, strong: true, anchor: 'start', words: GAUGE_WORDS.bar100 },
    { kind: 'text', x: left + 104, y: inches + 3.6, sizeMm: 2.7, strong: true, anchor: 'start', words: GAUGE_WORDS.bar4 },
    { kind: 'text', x: MARGIN_MM + 0.2, y: top + 104.5, sizeMm: 2.7, strong: true, anchor: 'start', words: GAUGE_WORDS.bar100 },
  ];
  for (let mm = 0; mm <= 100; mm += 1) {
    const tick = mm % 10 === 0 ? 4 : mm % 5 === 0 ? 3 : 1.8;
    marks.push({ kind: 'line', x1: left + mm, y1: millimetres - tick, x2: left + mm, y2: millimetres, weight: 'thin' });
    marks.push({ kind: 'line', x1: side, y1: top + mm, x2: side + tick, y2: top + mm, weight: 'thin' });
    if (mm % 10 === 0) marks.push({ kind: 'text', x: left + mm, y: millimetres - 4.8, sizeMm: SMALL_MM, strong: false, anchor: 'middle', words: String(mm) });
  }
  for (let sixteenth = 0; sixteenth <= 64; sixteenth += 1) {
    const tick = sixteenth % 16 === 0 ? 4 : sixteenth % 8 === 0 ? 3 : 1.8;
    const x = left + (sixteenth * 25.4) / 16;
    marks.push({ kind: 'line', x1: x, y1: inches, x2: x, y2: inches + tick, weight: 'thin' });
    if (sixteenth % 16 === 0) {
      marks.push({ kind: 'text', x, y: inches + 6.3, sizeMm: SMALL_MM, strong: false, anchor: 'middle', words: String(sixteenth / 16) });
    }
  }
  return marks;
}
