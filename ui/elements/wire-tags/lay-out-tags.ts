import { MARGIN_MM, PAPERS, widthOfWords, type Mark, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import type { CodeKind } from '../../drawing/index.ts';

/**
 * A flag tag: a face with words, a strip that goes round the wire, a face with the code. Folded on the broken lines the faces lie back to
 * back. mm; the strip holds a cable of 3.5 mm or more across and leaves a flag's neck on a thin wire (common practice, no source).
 */
const FORMS: Readonly<Record<CodeKind, { readonly wordsMm: number; readonly foldMm: number; readonly codeMm: number; readonly highMm: number; readonly moduleMm: number; readonly across: number }>> = {
  qr: { wordsMm: 28, foldMm: 11, codeMm: 23, highMm: 21, moduleMm: 0.5, across: 3 },
  code128: { wordsMm: 40, foldMm: 12, codeMm: 130, highMm: 18, moduleMm: 0.25, across: 1 },
};
/** Heading at the top and the bar with its words at the foot, mm. */
const HEAD_MM = 13;
const FOOT_MM = 11;
const BAR_MM = 50;
const EDGE_MM = 1.5;

export interface TagWords { readonly tag: string; readonly colour: string; readonly place: string; readonly job: string }

/** Where something of a tag stands on its page, mm from the page's upper left corner. */
export interface TagPlace { readonly index: number; readonly xMm: number; readonly yMm: number; readonly words: Box; readonly code: Box; readonly swatch: Box }
interface Box { readonly xMm: number; readonly yMm: number; readonly widthMm: number; readonly heightMm: number }

export interface TagPage {
  readonly widthMm: number;
  readonly heightMm: number;
  /** full lines are cut, words and the bar */
  readonly marks: readonly Mark[];
  /** broken lines are folded: from, to */
  readonly folds: readonly (readonly [number, number, number, number])[];
  readonly places: readonly TagPlace[];
}

/** Pages of tags at true size, as many as it takes; 33 with QR codes on one sheet of A4 or Letter. */
export function layOutTags(given: { tags: readonly TagWords[]; kind: CodeKind; paper: PaperName; title: string; how: readonly string[]; bar: string }): TagPage[] {
  const form = FORMS[given.kind];
  const { widthMm, heightMm } = PAPERS[given.paper];
  const wide = form.wordsMm + form.foldMm + form.codeMm;
  const down = Math.floor((heightMm - 2 * MARGIN_MM - HEAD_MM - FOOT_MM) / form.highMm);
  const perPage = down * form.across;
  const pages: TagPage[] = [];
  for (let first = 0; first < given.tags.length; first += perPage) {
    const tags = given.tags.slice(first, first + perPage);
    const left = (widthMm - form.across * wide) / 2;
    const top = MARGIN_MM + HEAD_MM;
    const places = tags.map((_tag, k): TagPlace => {
      const [x, y] = [left + (k % form.across) * wide, top + Math.floor(k / form.across) * form.highMm];
      return {
        index: first + k, xMm: x, yMm: y,
        words: { xMm: x, yMm: y, widthMm: form.wordsMm, heightMm: form.highMm },
        code: { xMm: x + form.wordsMm + form.foldMm, yMm: y, widthMm: form.codeMm, heightMm: form.highMm },
        swatch: { xMm: x + EDGE_MM, yMm: y + form.highMm * 0.47, widthMm: 7, heightMm: 2.6 },
      };
    });
    pages.push({
      widthMm, heightMm, places,
      marks: [
        fitted(MARGIN_MM, MARGIN_MM + 3.8, 4.2, 3, widthMm - 2 * MARGIN_MM, true, given.title), ...given.how.map((line, k) => fitted(MARGIN_MM, MARGIN_MM + 8 + 3.4 * k, 2.5, 2, widthMm - 2 * MARGIN_MM, false, line)),
        ...places.flatMap((place, k) => drawTag(place, tags[k]!)), ...cutLines(places, wide, form.highMm), ...drawBar(heightMm, given.bar),
      ],
      folds: places.flatMap(({ xMm, yMm }) => [xMm + form.wordsMm, xMm + form.wordsMm + form.foldMm].map((x) => [x, yMm, x, yMm + form.highMm] as const)),
    });
  }
  return pages;
}

/** How large a module of a code is drawn: at its size, or smaller where a long text would not go on the tag. */
export function moduleOf(kind: CodeKind, wide: number, high: number, { widthMm, heightMm }: { widthMm: number; heightMm: number }): number {
  return Math.min(FORMS[kind].moduleMm, (widthMm - 1) / wide, (heightMm - 1) / high);
}

function drawTag({ words, swatch }: TagPlace, { tag, colour, place, job }: TagWords): Mark[] {
  const room = words.widthMm - 2 * EDGE_MM;
  const x = words.xMm + EDGE_MM;
  return [
    fitted(x, words.yMm + words.heightMm * 0.39, 8, 3, room, true, tag),
    fitted(swatch.xMm + swatch.widthMm + 1.2, swatch.yMm + 2.3, 2.9, 2, room - swatch.widthMm - 1.2, true, colour),
    fitted(x, words.yMm + words.heightMm * 0.75, 2.6, 2, room, false, place),
    fitted(x, words.yMm + words.heightMm * 0.92, 2.2, 2.2, room, false, job),
  ];
}

/** Lines shared by neighbours are drawn once. */
function cutLines(places: readonly TagPlace[], wide: number, high: number): Mark[] {
  const lines = new Map<string, Mark>();
  const add = (x1: number, y1: number, x2: number, y2: number): void => {
    lines.set([x1, y1, x2, y2].map((value) => value.toFixed(2)).join(' '), { kind: 'line', x1, y1, x2, y2, weight: 'thin' });
  };
  for (const { xMm: x, yMm: y } of places) {
    add(x, y, x + wide, y);
    add(x, y + high, x + wide, y + high);
    add(x, y, x, y + high);
    add(x + wide, y, x + wide, y + high);
  }
  return [...lines.values()];
}

function drawBar(heightMm: number, words: string): Mark[] {
  const y = heightMm - MARGIN_MM - 3;
  const ticks = [0, BAR_MM / 2, BAR_MM].map((mm): Mark => ({ kind: 'line', x1: MARGIN_MM + mm, y1: y - 2, x2: MARGIN_MM + mm, y2: y + 2, weight: 'thin' }));
  return [{ kind: 'line', x1: MARGIN_MM, y1: y, x2: MARGIN_MM + BAR_MM, y2: y, weight: 'gauge', shows: 'bar 50 mm' }, ...ticks, text(MARGIN_MM + BAR_MM + 4, y + 1, 2.7, false, words)];
}

function text(x: number, y: number, sizeMm: number, strong: boolean, words: string): Mark {
  return { kind: 'text', x, y, sizeMm, strong, anchor: 'start', words };
}

/** Words made smaller until they go into their room, and cut where they would have to be smaller than `leastMm`. */
function fitted(x: number, y: number, sizeMm: number, leastMm: number, room: number, strong: boolean, words: string): Mark {
  const size = Math.min(sizeMm, Math.max(leastMm, (sizeMm * room) / Math.max(1e-9, widthOfWords(words, sizeMm))));
  return text(x, y, size, strong, cutWords(words, size, room));
}

function cutWords(words: string, sizeMm: number, room: number): string {
  if (widthOfWords(words, sizeMm) <= room + 1e-6) return words;
  let cut = words;
  while (cut !== '' && widthOfWords(`${cut}…`, sizeMm) > room) cut = cut.slice(0, -1);
  return `${cut.trimEnd()}…`;
}
