import { drawCheckBars, FOOT_MM, MARGIN_MM, PAPERS, SIDE_MM, type Mark, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import { breakLines, PX_PER_MM_TRUE } from '../../drawing/index.ts';

/** Where a drawing lies on the page, mm; `turned` a quarter clockwise where it only fits so. */
export interface PatternPlace { readonly x: number; readonly y: number; readonly widthMm: number; readonly heightMm: number; readonly turned: boolean }

export interface PatternPage {
  readonly widthMm: number;
  readonly heightMm: number;
  /** head, what the drawing shows, and the bars to check the printer by */
  readonly marks: readonly Mark[];
  /** undefined where the drawing is larger than the paper: it is never made smaller */
  readonly place: PatternPlace | undefined;
}

const HEAD_MM = 22;
const LINE_MM = 4.4;
const WORDS_MM = 3;
const TITLE_MM = 4;

/**
 * Lays a drawing of `widthPx` x `heightPx` (96 px to the inch) at true size on one page, under its title and the words that tell how to use
 * it, with the gauge sheet's bars.
 */
export function layOutPattern(given: {
  paper: PaperName; widthPx: number; heightPx: number; title: string; scale: string; lines: readonly string[]; tooLarge: string;
}): PatternPage {
  const { widthMm, heightMm } = PAPERS[given.paper];
  const left = MARGIN_MM + SIDE_MM;
  const right = widthMm - MARGIN_MM;
  const text = (y: number, words: string, sizeMm: number, strong: boolean): Mark => ({ kind: 'text', x: left, y, sizeMm, strong, anchor: 'start', words });
  const lines = given.lines.flatMap((line) => breakLines(line, WORDS_MM, right - left));
  const marks: Mark[] = [
    ...breakLines(given.title, TITLE_MM, right - left, true).slice(0, 2).map((line, i, { length }) => text(MARGIN_MM + 6.5 - (length - 1 - i) * 4.6, line, TITLE_MM, true)),
    { kind: 'line', x1: left, y1: MARGIN_MM + 8, x2: right, y2: MARGIN_MM + 8, weight: 'heavy' },
    ...breakLines(given.scale, WORDS_MM, right - left, true).map((line, i) => text(MARGIN_MM + 13 + i * LINE_MM, line, WORDS_MM, true)),
    ...lines.map((line, i) => text(MARGIN_MM + HEAD_MM + 2 + i * LINE_MM, line, WORDS_MM, false)),
    ...drawCheckBars(heightMm),
  ];
  const top = MARGIN_MM + HEAD_MM + lines.length * LINE_MM + 2;
  const room = { width: right - left, height: heightMm - MARGIN_MM - FOOT_MM - top };
  const [width, height] = [given.widthPx / PX_PER_MM_TRUE, given.heightPx / PX_PER_MM_TRUE];
  const fits = (across: number, down: number): boolean => across <= room.width && down <= room.height;
  const turned = !fits(width, height) && fits(height, width);
  if (!turned && !fits(width, height)) return { widthMm, heightMm, marks: [...marks, text(top + 8, given.tooLarge, 4, true)], place: undefined };
  const [across, down] = turned ? [height, width] : [width, height];
  return {
    widthMm, heightMm, marks,
    place: { x: left + (room.width - across) / 2, y: top + Math.min((room.height - down) / 2, 20), widthMm: width, heightMm: height, turned },
  };
}
