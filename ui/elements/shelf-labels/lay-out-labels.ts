import { MARGIN_MM, PAPERS, widthOfWords, type Mark, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import type { CodeKind } from '../../drawing/index.ts';

/** A label, mm: code beside the words where it is square, under them where it is a line. A bin's front is some 30 mm high (common practice, no source). */
const FORMS: Readonly<Record<CodeKind, { readonly wideMm: number; readonly highMm: number; readonly across: number; readonly code: Box; readonly moduleMm: number }>> = {
  qr: { wideMm: 64, highMm: 27, across: 3, code: { xMm: 40, yMm: 1, widthMm: 23, heightMm: 25 }, moduleMm: 0.5 },
  code128: { wideMm: 96, highMm: 30, across: 2, code: { xMm: 2, yMm: 15, widthMm: 92, heightMm: 14 }, moduleMm: 0.3 },
};
const HEAD_MM = 8;
const FOOT_MM = 11;
const BAR_MM = 50;
const EDGE_MM = 2;

export interface LabelWords { readonly large: string; readonly lines: readonly string[] }
interface Box { readonly xMm: number; readonly yMm: number; readonly widthMm: number; readonly heightMm: number }
/** Where the code of a label stands on its page. */
export interface LabelPlace { readonly index: number; readonly code: Box }
export interface LabelPage { readonly widthMm: number; readonly heightMm: number; readonly marks: readonly Mark[]; readonly places: readonly LabelPlace[] }

/** Pages of labels at true size, as many as it takes. */
export function layOutLabels(given: { labels: readonly LabelWords[]; kind: CodeKind; paper: PaperName; title: string; bar: string }): LabelPage[] {
  const form = FORMS[given.kind];
  const { widthMm, heightMm } = PAPERS[given.paper];
  const left = (widthMm - form.across * form.wideMm) / 2;
  const top = MARGIN_MM + HEAD_MM;
  const perPage = form.across * Math.floor((heightMm - top - MARGIN_MM - FOOT_MM) / form.highMm);
  const pages: LabelPage[] = [];
  for (let first = 0; first < given.labels.length; first += perPage) {
    const labels = given.labels.slice(first, first + perPage);
    const corners = labels.map((_label, k): [number, number] => [left + (k % form.across) * form.wideMm, top + Math.floor(k / form.across) * form.highMm]);
    pages.push({
      widthMm, heightMm,
      places: corners.map(([x, y], k) => ({ index: first + k, code: { ...form.code, xMm: x + form.code.xMm, yMm: y + form.code.yMm } })),
      marks: [
        text(MARGIN_MM, MARGIN_MM + 3.8, 3.2, true, given.title, widthMm - 2 * MARGIN_MM),
        ...corners.flatMap(([x, y], k) => drawLabel(x, y, given.kind, labels[k]!)), ...cutLines(corners, form.wideMm, form.highMm), ...drawBar(heightMm, given.bar, widthMm),
      ],
    });
  }
  return pages;
}

/** How large a module of a code is drawn: at its size, or smaller where a long text would not go on the label. */
export function moduleOf(kind: CodeKind, wide: number, high: number, { widthMm, heightMm }: { widthMm: number; heightMm: number }): number {
  return Math.min(FORMS[kind].moduleMm, widthMm / wide, heightMm / high);
}

function drawLabel(x: number, y: number, kind: CodeKind, { large, lines }: LabelWords): Mark[] {
  const room = (kind === 'qr' ? FORMS.qr.code.xMm : FORMS.code128.wideMm) - EDGE_MM - 1;
  const [largeMm, lineMm, gap] = kind === 'qr' ? [7, 2.8, 4.2] : [5.5, 2.6, 3.3];
  const first = y + (kind === 'qr' ? 9.5 : 6.5);
  return [text(x + EDGE_MM, first, largeMm, true, large, room), ...lines.map((line, k) => text(x + EDGE_MM, first + gap * (k + 1) + (kind === 'qr' ? 0.6 : 0), lineMm, false, line, room))];
}

/** Lines shared by neighbours are drawn once. */
function cutLines(corners: readonly [number, number][], wide: number, high: number): Mark[] {
  const lines = new Map<string, Mark>();
  const add = (x1: number, y1: number, x2: number, y2: number): void => {
    lines.set([x1, y1, x2, y2].map((value) => value.toFixed(2)).join(' '), { kind: 'line', x1, y1, x2, y2, weight: 'thin' });
  };
  for (const [x, y] of corners) {
    add(x, y, x + wide, y);
    add(x, y + high, x + wide, y + high);
    add(x, y, x, y + high);
    add(x + wide, y, x + wide, y + high);
  }
  return [...lines.values()];
}

function drawBar(heightMm: number, words: string, widthMm: number): Mark[] {
  const y = heightMm - MARGIN_MM - 3;
  const ticks = [0, BAR_MM / 2, BAR_MM].map((mm): Mark => ({ kind: 'line', x1: MARGIN_MM + mm, y1: y - 2, x2: MARGIN_MM + mm, y2: y + 2, weight: 'thin' }));
  return [{ kind: 'line', x1: MARGIN_MM, y1: y, x2: MARGIN_MM + BAR_MM, y2: y, weight: 'gauge', shows: 'bar 50 mm' }, ...ticks, text(MARGIN_MM + BAR_MM + 4, y + 1, 2.7, false, words, widthMm - 2 * MARGIN_MM - BAR_MM - 4)];
}

/** Words made smaller, down to 2 mm, until they go into their room, then cut. */
function text(x: number, y: number, sizeMm: number, strong: boolean, words: string, room: number): Mark {
  const size = Math.min(sizeMm, Math.max(2, (sizeMm * room) / Math.max(1e-9, widthOfWords(words, sizeMm))));
  let cut = words;
  while (cut !== '' && widthOfWords(cut === words ? cut : `${cut}…`, size) > room + 1e-6) cut = cut.slice(0, -1);
  return { kind: 'text', x, y, sizeMm: size, strong, anchor: 'start', words: cut === words ? words : `${cut.trimEnd()}…` };
}
