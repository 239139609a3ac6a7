import { drawCheckBars, FOOT_MM, SIDE_MM } from './check-bars.ts';
import { GAUGE_WORDS } from './gauge-words.ts';
import { drawCombs, drawHexagons, drawHoles, drawStuds, drawTabs, type Gauge } from './gauges.ts';
import type { Mark } from './mark.ts';
import { MARGIN_MM, PAPERS, type PaperName } from './paper.ts';

export interface GaugePage { readonly widthMm: number; readonly heightMm: number; readonly marks: readonly Mark[] }
interface GaugeSheet { readonly pages: readonly GaugePage[] }

interface Section { readonly words: readonly [string, string]; readonly gauges: readonly Gauge[]; readonly stand: 'foot' | 'head' }

const HEAD_MM = 24;
const HEADING_MM = 11.5;
const GAP_MM = 3;
const ROW_GAP_MM = 4;
const SECTION_GAP_MM = 5;

/**
 * The bench gauge sheet at true size: what is drawn where, in mm, page by page.
 * Sizes are those of the reference tables: ISO 261 and ASME B1.1 threads, ISO 273 and ASME B18.2.8 holes, the hexagons and the IEC 61210 tabs.
 * A section stands whole on one page; every page carries the bars to check the printer by.
 */
export function layOutGaugeSheet(paper: PaperName): GaugeSheet {
  const { widthMm, heightMm, name } = PAPERS[paper];
  const { sections: words } = GAUGE_WORDS;
  const left = MARGIN_MM + SIDE_MM;
  const roomMm = widthMm - MARGIN_MM - left;
  const bottomMm = heightMm - MARGIN_MM - FOOT_MM;
  const sections: Section[] = [
    { words: words.metricHoles, gauges: drawHoles('metric'), stand: 'foot' },
    { words: words.inchHoles, gauges: drawHoles('inch'), stand: 'foot' },
    { words: words.metricStuds, gauges: drawStuds('metric'), stand: 'foot' },
    { words: words.inchStuds, gauges: drawStuds('inch'), stand: 'foot' },
    { words: words.tabs, gauges: drawTabs(), stand: 'foot' },
    { words: words.metricHexagons, gauges: drawHexagons('metric'), stand: 'foot' },
    { words: words.inchHexagons, gauges: drawHexagons('inch'), stand: 'foot' },
    { words: words.metricCombs, gauges: drawCombs('metric'), stand: 'head' },
    { words: words.inchCombs, gauges: drawCombs('inch'), stand: 'head' },
  ];

  const pages: Mark[][] = [drawHow(left)];
  let y = MARGIN_MM + HEAD_MM + GAUGE_WORDS.how.length * 4.4 + 3;
  for (const section of sections) {
    const rows = breakRows(section.gauges, roomMm);
    const needMm = HEADING_MM + rows.reduce((sum, row) => sum + heightOf(row) + ROW_GAP_MM, 0);
    if (y + needMm > bottomMm) {
      pages.push([]);
      y = MARGIN_MM + HEAD_MM;
    }
    const marks = pages.at(-1)!;
    marks.push(...drawHeading(section.words, left, y));
    y += HEADING_MM;
    for (const row of rows) {
      const rowMm = heightOf(row);
      let x = left;
      for (const gauge of row) {
        const top = y + (section.stand === 'foot' ? rowMm - gauge.heightMm : 0);
        marks.push(...gauge.marks.map((mark) => moveMark(mark, x, top)));
        x += gauge.widthMm + GAP_MM;
      }
      y += rowMm + ROW_GAP_MM;
    }
    y += SECTION_GAP_MM;
  }
  return {
    pages: pages.map((marks, index) => ({
      widthMm, heightMm, marks: [...drawHead(left, widthMm, GAUGE_WORDS.page(index + 1, pages.length, name)), ...drawCheckBars(heightMm), ...marks],
    })),
  };
}

function drawHead(left: number, widthMm: number, page: string): Mark[] {
  const right = widthMm - MARGIN_MM;
  return [
    { kind: 'text', x: left, y: MARGIN_MM + 5, sizeMm: 6, strong: true, anchor: 'start', words: GAUGE_WORDS.title },
    { kind: 'text', x: right, y: MARGIN_MM + 5, sizeMm: 2.7, strong: false, anchor: 'end', words: page },
    { kind: 'line', x1: left, y1: MARGIN_MM + 8, x2: right, y2: MARGIN_MM + 8, weight: 'heavy' },
    { kind: 'text', x: left, y: MARGIN_MM + 12.6, sizeMm: 2.7, strong: true, anchor: 'start', words: GAUGE_WORDS.scale },
    { kind: 'text', x: left, y: MARGIN_MM + 16.8, sizeMm: 2.7, strong: true, anchor: 'start', words: GAUGE_WORDS.wrong },
  ];
}

function drawHow(left: number): Mark[] {
  return GAUGE_WORDS.how.map((words, index) => ({
    kind: 'text', x: left, y: MARGIN_MM + HEAD_MM + 1 + index * 4.4, sizeMm: 2.5, strong: false, anchor: 'start', words,
  }));
}

function drawHeading([title, how]: readonly [string, string], x: number, y: number): Mark[] {
  return [
    { kind: 'text', x, y: y + 3.4, sizeMm: 3.8, strong: true, anchor: 'start', words: title },
    { kind: 'text', x, y: y + 7.8, sizeMm: 2.4, strong: false, anchor: 'start', words: how },
  ];
}

function breakRows(gauges: readonly Gauge[], roomMm: number): Gauge[][] {
  const rows: Gauge[][] = [];
  let used = Infinity;
  for (const gauge of gauges) {
    if (used + gauge.widthMm > roomMm) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)!.push(gauge);
    used += gauge.widthMm + GAP_MM;
  }
  return rows;
}

const heightOf = (row: readonly Gauge[]): number => Math.max(...row.map((gauge) => gauge.heightMm));

function moveMark(mark: Mark, x: number, y: number): Mark {
  switch (mark.kind) {
    case 'line': return { ...mark, x1: mark.x1 + x, x2: mark.x2 + x, y1: mark.y1 + y, y2: mark.y2 + y };
    case 'polygon': return { ...mark, points: mark.points.map(([px, py]) => [px + x, py + y] as const) };
    case 'circle': case 'text': return { ...mark, x: mark.x + x, y: mark.y + y };
  }
}
