import type { LINE_MM } from './paper.ts';

type LineWeight = keyof typeof LINE_MM;

/**
 * One thing drawn on a page. All lengths in mm from the page's upper left corner, y downward; a text's y is its base line.
 * `shows` names the gauge a mark is, as the reference tables name it: 'hole M6', 'comb 1.25', 'bar 100 mm'.
 */
export type Mark =
  | { readonly kind: 'line'; readonly x1: number; readonly y1: number; readonly x2: number; readonly y2: number; readonly weight: LineWeight; readonly shows?: string }
  | { readonly kind: 'circle'; readonly x: number; readonly y: number; readonly diameterMm: number; readonly weight: LineWeight; readonly shows?: string }
  | { readonly kind: 'polygon'; readonly points: readonly (readonly [number, number])[]; readonly weight: LineWeight; readonly shows?: string }
  | {
    readonly kind: 'text'; readonly x: number; readonly y: number; readonly sizeMm: number; readonly strong: boolean;
    readonly anchor: 'start' | 'middle' | 'end'; readonly words: string;
  };

export interface Box { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number }

/** Widest letter of each class in B612, as a part of the letter size; both its weights are equally wide. */
const LETTER_WIDTHS: readonly (readonly [RegExp, number])[] = [[/[ !'.,:;Iijl|]/, 0.36], [/["()\-=Jacfrstz[\]]/, 0.54], [/[&HNOQU^w~]/, 0.81], [/[#%@MWm]/, 1]];
const OTHER_WIDTH = 0.66;

/** Room kept for a line of words, mm: at least as wide as the sheet's typeface sets it. */
export function widthOfWords(words: string, sizeMm: number): number {
  return [...words].reduce((sum, letter) => sum + (LETTER_WIDTHS.find(([letters]) => letters.test(letter))?.[1] ?? OTHER_WIDTH), 0) * sizeMm;
}

/** The smallest upright rectangle around a mark, mm; around the middle of its lines, and for words around the room kept for them. */
export function boxOfMark(mark: Mark): Box {
  switch (mark.kind) {
    case 'line': return {
      left: Math.min(mark.x1, mark.x2), right: Math.max(mark.x1, mark.x2), top: Math.min(mark.y1, mark.y2), bottom: Math.max(mark.y1, mark.y2),
    };
    case 'circle': {
      const radius = mark.diameterMm / 2;
      return { left: mark.x - radius, right: mark.x + radius, top: mark.y - radius, bottom: mark.y + radius };
    }
    case 'polygon': {
      const xs = mark.points.map(([x]) => x);
      const ys = mark.points.map(([, y]) => y);
      return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
    }
    case 'text': {
      const width = widthOfWords(mark.words, mark.sizeMm);
      const left = mark.x - (mark.anchor === 'start' ? 0 : mark.anchor === 'middle' ? width / 2 : width);
      return { left, right: left + width, top: mark.y - 0.8 * mark.sizeMm, bottom: mark.y + 0.25 * mark.sizeMm };
    }
  }
}
