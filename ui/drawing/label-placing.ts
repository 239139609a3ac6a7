import { type Box, type Spot, lengthInside, overlapArea } from './geometry.ts';

/** A label that wants to stand by something: `by` is the box of the thing, `width` and `height` the label's own, px. */
export type LabelWish = Readonly<{ id: string; by: Box; width: number; height: number; prefer?: readonly Side[] }>;
export type Side = 'below' | 'above' | 'right' | 'left' | 'below-right' | 'below-left' | 'above-right' | 'above-left';
export type LabelPlace = Readonly<{ id: string; box: Box; side: Side; clear: boolean }>;
/** What labels must keep off: boxes (symbols) and lines (wires, with their half width). */
export type Obstacles = Readonly<{ boxes: readonly Box[]; lines: readonly Readonly<{ points: readonly Spot[]; half: number }>[] }>;

/** What a corner costs against a side, in the units below: a name at a corner may be taken for a neighbour's. */
const DIAGONAL = 24;
/** What standing off the middle of a side costs. */
const SLID = 7;

const SIDES: readonly Side[] = ['below', 'right', 'left', 'above', 'below-right', 'below-left', 'above-right', 'above-left'];

/**
 * Places each label on the side of its thing where it covers least: first within `bounds`, then off symbols and other labels,
 * then off wires, then on the side it prefers. Labels are settled in the given order and gone over once more.
 * @returns one place for each wish; `clear` is false when something is still covered.
 */
export function placeLabels(wishes: readonly LabelWish[], obstacles: Obstacles, bounds: Box, gap = 4): LabelPlace[] {
  const places = new Map<string, LabelPlace>();
  for (let round = 0; round < 3; round++) {
    for (const wish of wishes) {
      const others = [...places.values()].filter((p) => p.id !== wish.id).map((p) => p.box);
      const order = wish.prefer ? [...wish.prefer, ...SIDES.filter((s) => !wish.prefer!.includes(s))] : SIDES;
      let best: { place: LabelPlace; cost: number } | undefined;
      for (const distance of [gap, gap * 2.5, gap * 4, gap * 6]) {
        for (const [rank, side] of order.entries()) {
          for (const slide of side.includes('-') ? [0] : [0, -1 / 3, 1 / 3]) {
            const box = boxOnSide(wish, side, distance, slide);
            const covered = coverOf(box, [...obstacles.boxes, ...others], obstacles.lines);
            const outside = areaOutside(box, bounds);
            const cost = outside * 1000 + covered * 10 + distance * 3 + rank * 4 + (side.includes('-') ? DIAGONAL : 0) + (slide === 0 ? 0 : SLID);
            if (best === undefined || cost < best.cost) {
              best = { place: { id: wish.id, box, side, clear: covered === 0 && outside === 0 }, cost };
            }
          }
        }
      }
      places.set(wish.id, best!.place);
    }
  }
  return wishes.map((wish) => places.get(wish.id)!);
}

/**
 * Width of a text in the product's typeface, px: a bound from measured advances, a little on the wide side.
 * Labels are laid out before there is a page to measure them on, and in tests without one.
 */
export function textWidth(text: string, sizePx: number, strong = false): number {
  let em = 0;
  for (const letter of text) {
    if (/[ijl.,:;'’|! ]/.test(letter)) em += 0.34;
    else if (/[fIrt()\-/[\]]/.test(letter)) em += 0.44;
    else if (/[mwMW@%]/.test(letter)) em += 0.96;
    else if (/[A-Z#Ø×]/.test(letter)) em += 0.72;
    else em += 0.62;
  }
  return em * sizePx * (strong ? 1.07 : 1);
}

/** Breaks words into lines no wider than `widthPx`; a single longer word stays whole. */
export function breakLines(text: string, sizePx: number, widthPx: number, strong = false): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && textWidth(`${last} ${word}`, sizePx, strong) <= widthPx) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** The label's box on a side; `slide` moves it along that side by a part of its own length. */
function boxOnSide(wish: LabelWish, side: Side, gap: number, slide: number): Box {
  const { by, width, height } = wish;
  const [cx, cy] = [(by.left + by.right) / 2, (by.top + by.bottom) / 2];
  const right = side.endsWith('right');
  const left = side.endsWith('left');
  const sideways = side === 'left' || side === 'right';
  const x = right ? by.right + gap : left ? by.left - gap - width : cx - width / 2 + slide * width;
  const diagonal = !sideways && (right || left);
  const y = sideways ? cy - height / 2 + slide * height
    : side.startsWith('below') ? by.bottom + (diagonal ? -height / 3 : gap)
    : by.top - height + (diagonal ? height / 3 : -gap);
  return { left: x, right: x + width, top: y, bottom: y + height };
}

function coverOf(box: Box, boxes: readonly Box[], lines: Obstacles['lines']): number {
  let cover = boxes.reduce((sum, other) => sum + overlapArea(box, other), 0);
  for (const { points, half } of lines) {
    const grown = { left: box.left - half, right: box.right + half, top: box.top - half, bottom: box.bottom + half };
    for (let i = 1; i < points.length; i++) cover += lengthInside(points[i - 1]!, points[i]!, grown) * half;
  }
  return cover;
}

function areaOutside(box: Box, bounds: Box): number {
  const area = (box.right - box.left) * (box.bottom - box.top);
  return Math.max(0, area - overlapArea(box, bounds));
}
