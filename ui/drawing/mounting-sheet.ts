import type { MountingHole, Placement } from '../../catalog-schema/index.ts';
import { AS_GIVEN, holeBox, patternBounds, plateEdges, slotEnds } from './bracket-view.ts';
import { type Box, type BoxMm, type PlacementLike, type PointMm, type Projection, type Spot, PX_PER_MM_TRUE, boxAround, fitInto, placePoint, toSheet } from './geometry.ts';
import { type LabelPlace, breakLines, placeLabels, textWidth } from './label-placing.ts';
import { DRAWING_WORDS, sayLength, sayMm } from './words.ts';

export type MountingInput = Readonly<{
  /** the machine's bolts, as the record has them */
  bolts: readonly MountingHole[]; boltMm?: number
  /** the new part's holes */
  holes: readonly MountingHole[]
  placement: Placement | null
  widthPx: number; units?: 'mm' | 'inch'
  /** one millimetre of the part is one millimetre of paper */
  trueSize?: boolean
}>;

export type HoleNote = Readonly<{ place: LabelPlace; lines: readonly string[]; kind: 'old' | 'new' | 'do' }>;
export type SpanMm = Readonly<{ way: 'across' | 'up'; from: PointMm; to: PointMm; words: string }>;

/** Where old and new fall on one sheet, in the machine's frame. */
export type MountingSheet = Readonly<{
  width: number; height: number; projection: Projection; placement: PlacementLike; placed: boolean
  notes: readonly HoleNote[]; oldSpans: readonly SpanMm[]; newSpans: readonly SpanMm[]; top: number; bottom: number; left: number; right: number
}>;

const ROOM = { top: 50, bottom: 100, side: 14, dimension: 36 } as const;

/**
 * Lays the machine's bolts and the new part's placed holes on one sheet to one scale.
 * Without a placement the two patterns lie centre on centre and `placed` is false.
 */
export function layMountingSheet(input: MountingInput): MountingSheet {
  const { bolts, holes, widthPx, units = 'mm' } = input;
  const placement = input.placement ?? centreOnCentre(bolts, holes);
  const boxes = [
    ...(bolts.length > 0 ? [patternBounds(bolts)] : []), ...(holes.length > 0 ? [patternBounds(holes, placement)] : []),
  ];
  const extra = (input.placement?.newHoles ?? []).map((h): BoxMm =>
    ({ left: h.xMm - h.diameterMm, right: h.xMm + h.diameterMm, bottom: h.yMm - h.diameterMm, top: h.yMm + h.diameterMm }));
  const all = unite([...boxes, ...extra]);
  const oldSpans = spansOf(bolts.map((h) => placePoint(h, AS_GIVEN)), units);
  const newSpans = spansOf(holes.map((h) => placePoint(h, placement)), units);
  const leftRoom = ROOM.side + (oldSpans.some((s) => s.way === 'up') ? ROOM.dimension : 0);
  const rightRoom = ROOM.side + (newSpans.some((s) => s.way === 'up') ? ROOM.dimension : 0);

  const trueWidth = (all.right - all.left) * PX_PER_MM_TRUE + leftRoom + rightRoom;
  const width = input.trueSize === true ? Math.max(trueWidth, 240) : widthPx;
  const frame: Box = { left: leftRoom, right: width - rightRoom, top: ROOM.top, bottom: ROOM.top + Math.min(width * 0.8, 320) };
  const scale = input.trueSize === true ? PX_PER_MM_TRUE : Math.min(fitInto(all, frame, 6).scale, 6);
  const projection: Projection = {
    scale,
    origin: { x: (frame.left + frame.right) / 2 - ((all.left + all.right) / 2) * scale, y: ROOM.top + all.top * scale },
  };
  const bottom = ROOM.top + (all.top - all.bottom) * scale;
  const sheet = {
    width, height: bottom + ROOM.bottom, projection, placement, placed: input.placement !== null, oldSpans, newSpans,
    top: ROOM.top, bottom, left: projection.origin.x + all.left * scale, right: projection.origin.x + all.right * scale,
  };
  return { ...sheet, notes: noteHoles(input, sheet, units) };
}

/** Laid over each other by the middles of their patterns: for looking only. */
export function centreOnCentre(bolts: readonly MountingHole[], holes: readonly MountingHole[]): PlacementLike {
  const middle = (list: readonly MountingHole[]): [number, number] => {
    if (list.length === 0) return [0, 0];
    const [xs, ys] = [list.map((h) => h.xMm), list.map((h) => h.yMm)];
    return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
  };
  const [from, to] = [middle(holes), middle(bolts)];
  return bolts.length === 0 ? AS_GIVEN : { rotationDeg: 0, flipped: false, shiftMm: [to[0] - from[0], to[1] - from[1]] };
}

/** The spans a mechanic measures: between the outermost centres, across and up, where they differ by more than 1 mm. */
function spansOf(centres: readonly PointMm[], units: 'mm' | 'inch'): SpanMm[] {
  if (centres.length < 2) return [];
  const spans: SpanMm[] = [];
  const byX = [...centres].sort((a, b) => a.xMm - b.xMm);
  const byY = [...centres].sort((a, b) => a.yMm - b.yMm);
  const [left, right, low, high] = [byX[0]!, byX.at(-1)!, byY[0]!, byY.at(-1)!];
  if (right.xMm - left.xMm > 1) spans.push({ way: 'across', from: left, to: right, words: sayLength(right.xMm - left.xMm, units) });
  if (high.yMm - low.yMm > 1) spans.push({ way: 'up', from: low, to: high, words: sayLength(high.yMm - low.yMm, units) });
  return spans;
}

function noteHoles(
  input: MountingInput, sheet: Omit<MountingSheet, 'notes'>, units: 'mm' | 'inch',
): HoleNote[] {
  const { projection, placement } = sheet;
  const newHoles = input.placement?.newHoles ?? [];
  const wishes: { by: Box; words: string; kind: HoleNote['kind'] }[] = [];
  for (const { hole, words } of groupNewHoles(newHoles, units)) {
    const r = (hole.diameterMm / 2) * projection.scale;
    wishes.push({ by: boxAround(toSheet(hole, projection), r * 2 + 8, r * 2 + 8), kind: 'do', words });
  }
  const sizes = new Set<string>();
  for (const hole of input.holes) {
    const words = sayHole(hole, units);
    const centre = placePoint(hole, placement);
    if (sizes.has(words) || newHoles.some((h) => Math.hypot(h.xMm - centre.xMm, h.yMm - centre.yMm) < 0.5)) continue;
    sizes.add(words);
    wishes.push({ by: holeBox(hole, projection, placement), words, kind: 'new' });
  }
  const bolt = input.bolts[0];
  if (bolt !== undefined) {
    const boltMm = input.boltMm;
    wishes.push({
      by: holeBox(bolt, projection), kind: 'old',
      words: boltMm === undefined ? `${DRAWING_WORDS.old} ${sayHole(bolt, units)}` : `${DRAWING_WORDS.bolt} ${sayLength(boltMm, units)}`,
    });
  }
  const boxes = [...newHoles.map((h) => boxAround(toSheet(h, projection), h.diameterMm * projection.scale + 8, h.diameterMm * projection.scale + 8)),
    ...input.bolts.map((h) => holeBox(h, projection)), ...input.holes.map((h) => holeBox(h, projection, placement))];
  const texts = wishes.map((w) => breakLines(w.words, 14, w.kind === 'do' ? 165 : 200, w.kind === 'do'));
  const edges = [
    ...(input.bolts.length > 0 ? plateEdges(input.bolts, projection) : []), ...(input.holes.length > 0 ? plateEdges(input.holes, projection, placement) : []),
    ...spanLines(sheet),
  ];
  const places = placeLabels(
    wishes.map((w, i) => ({
      id: String(i), by: w.by, width: Math.max(...texts[i]!.map((line) => textWidth(line, 14, w.kind === 'do'))), height: texts[i]!.length * 17 + 2,
    })),
    { boxes, lines: edges.map((points) => ({ points, half: 2 })) },
    { left: 2, right: sheet.width - 2, top: sheet.top - 20, bottom: sheet.bottom + 24 }, 6,
  );
  return wishes.map((w, i) => ({ place: places[i]!, lines: texts[i]!, kind: w.kind }));
}

/** Holes to drill, alike ones said once: 'drill 2 × Ø 9 mm in the bracket' by the first of them. */
export function groupNewHoles(newHoles: Placement['newHoles'], units: 'mm' | 'inch' = 'mm'): { hole: Placement['newHoles'][number]; words: string }[] {
  const groups = new Map<string, { hole: Placement['newHoles'][number]; count: number }>();
  for (const hole of newHoles) {
    const key = `${hole.in} ${sayLength(hole.diameterMm, units)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { hole, count: 1 });
    else group.count++;
  }
  return [...groups.values()].map(({ hole, count }) => ({
    hole,
    words: DRAWING_WORDS.newHole(`${count > 1 ? `${count} × ` : ''}Ø ${sayLength(hole.diameterMm, units)}`,
      hole.in === 'panel' ? DRAWING_WORDS.panel : DRAWING_WORDS.bracketWord),
  }));
}

/** The extension lines and the columns of upright dimensions: labels keep off them. */
function spanLines(sheet: Omit<MountingSheet, 'notes'>): Spot[][] {
  const lines: Spot[][] = [];
  for (const [spans, above] of [[sheet.newSpans, true], [sheet.oldSpans, false]] as const) {
    for (const span of spans) {
      const ends = [toSheet(span.from, sheet.projection), toSheet(span.to, sheet.projection)];
      const at = span.way === 'across' ? (above ? sheet.top - 30 : sheet.bottom + 34) : above ? sheet.right + 16 : sheet.left - 16;
      for (const end of ends) lines.push([end, span.way === 'across' ? { x: end.x, y: at } : { x: at, y: end.y }]);
      lines.push(span.way === 'across' ? ends.map((e) => ({ x: e.x, y: at })) : ends.map((e) => ({ x: at, y: e.y })));
    }
  }
  return lines;
}

/** A hole in words: its diameter, and how far a bolt can travel in it. */
function sayHole(hole: MountingHole, units: 'mm' | 'inch'): string {
  return (hole.slotMm ?? 0) > 0
    ? `Ø ${units === 'mm' ? sayMm(hole.diameterMm) : sayLength(hole.diameterMm, units)}, slot ${sayLength(hole.slotMm!, units)}`
    : `Ø ${sayLength(hole.diameterMm, units)}`;
}

function unite(boxes: readonly BoxMm[]): BoxMm {
  if (boxes.length === 0) return { left: -20, right: 20, bottom: -15, top: 15 };
  return {
    left: Math.min(...boxes.map((b) => b.left)), right: Math.max(...boxes.map((b) => b.right)),
    bottom: Math.min(...boxes.map((b) => b.bottom)), top: Math.max(...boxes.map((b) => b.top)),
  };
}

/** Centre of a hole on the sheet and the ends of its travel. */
export function holeSpots(hole: MountingHole, sheet: Pick<MountingSheet, 'projection'>, placement: PlacementLike) {
  const [a, b] = slotEnds(hole, placement);
  return { centre: toSheet(placePoint(hole, placement), sheet.projection), ends: [toSheet(a, sheet.projection), toSheet(b, sheet.projection)] as const };
}
