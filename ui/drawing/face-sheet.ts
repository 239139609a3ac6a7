import type { Wire } from '../../catalog-schema/index.ts';
import { type FaceTerminal, footprintMm, reachMm } from './face-terminals.ts';
import { type Box, type PointMm, type Projection, type Spot, boundsMm, boxAround, fitInto, toSheet } from './geometry.ts';
import { type LabelPlace, breakLines, placeLabels, textWidth } from './label-placing.ts';
import { layLabelRows, spreadApart } from './spread.ts';
import { readWireColour } from './wire-colours.ts';
import { uprightPieces, wireWidthPx } from './wire-line.ts';
import { DRAWING_WORDS, sayId } from './words.ts';

export type FaceInput = Readonly<{
  terminals: readonly FaceTerminal[]; wires: readonly Wire[]; widthPx: number
  /** px per mm, when the drawing must have one scale with another or be true to size; else as large as fits */
  scale?: number
  /** highest the face itself may be, px */
  maxFacePx?: number
  /** another part's terminals that lie under these at the same scale: room is kept for them, labels keep off them and off `paths` */
  under?: readonly FaceTerminal[]
  /** lines that join places of this face, mm: labels keep off them */
  paths?: readonly (readonly PointMm[])[]
}>;

/** A wire on the sheet: the points its cable runs through, and its label. */
export type FaceWire = Readonly<{ wire: Wire; points: readonly Spot[]; label: Box; lines: readonly string[]; side: 'up' | 'down' }>;
export type FaceSpot = Readonly<{ terminal: FaceTerminal; centre: Spot; reach: number; label: LabelPlace; lines: readonly string[] }>;

/** Where everything of a terminal face falls on its sheet, px. */
export type FaceSheet = Readonly<{
  width: number; height: number; projection: Projection; body: Box; spots: readonly FaceSpot[]; wires: readonly FaceWire[]
}>;

const EDGE = 10;
const LINE = 17;
const ROUTE = 34;
const LABEL_SIZES = [{ width: 112, leads: true }, { width: 92, leads: true }, { width: 58, leads: false }, { width: 34, leads: false }] as const;
const BODY_MARGIN_MM = 7;

/**
 * Lays a terminal face on a sheet: the face in its middle, each wire led straight up or down to a label of its own, no label
 * over another label, a symbol or another wire where there is room to avoid it.
 * @returns px positions; the height follows from what has to be shown.
 */
export function layFaceSheet(input: FaceInput): FaceSheet {
  const { terminals, wires, widthPx } = input;
  const under = input.under ?? [];
  const box = faceBounds([...terminals, ...under]);
  const frame: Box = { left: EDGE, right: widthPx - EDGE, top: 0, bottom: input.maxFacePx ?? Math.min(Math.max(widthPx * 0.8, 190), 340) };
  const fitted = input.scale ?? fitInto(box, frame, 8).scale;
  const faceHeight = (box.top - box.bottom) * fitted;

  const leavesUp = sideChooser(terminals);
  const hung = hangWires(terminals, wires, leavesUp);
  const up = laySide(hung.filter((h) => h.side === 'up'), widthPx);
  const down = laySide(hung.filter((h) => h.side === 'down'), widthPx);
  const top = up.height + 2;
  const projection: Projection = {
    scale: fitted,
    origin: { x: widthPx / 2 - ((box.left + box.right) / 2) * fitted, y: top + box.top * fitted },
  };
  const body: Box = {
    left: projection.origin.x + box.left * fitted, right: projection.origin.x + box.right * fitted, top, bottom: top + faceHeight,
  };
  const spotOf = new Map(terminals.map((t) => [t.id, toSheet(t.at, projection)]));
  const routed = [
    ...routeSide(hung.filter((h) => h.side === 'up'), terminals, projection, widthPx, up, body, 'up'),
    ...routeSide(hung.filter((h) => h.side === 'down'), terminals, projection, widthPx, down, body, 'down'),
  ];
  const order = new Map(wires.map((w, i) => [w.tag, i]));
  routed.sort((a, b) => order.get(a.wire.tag)! - order.get(b.wire.tag)!);

  const reaches = new Map(terminals.map((t) => [t.id, Math.max(reachMm(t) * fitted, 6)]));
  const symbols = terminals.map((t) => symbolBox(t, spotOf.get(t.id)!, fitted, wires));
  const below = under.map((t) => symbolBox(t, toSheet(t.at, projection), fitted, [], 2));
  const lines = [
    ...routed.map((r) => ({ points: uprightPieces(r.points), half: wireWidthPx(r.wire) / 2 + 1 })),
    ...(input.paths ?? []).map((path) => ({ points: path.map((point) => toSheet(point, projection)), half: 6 })),
  ];
  const place = (texts: readonly (readonly string[])[]): LabelPlace[] => placeLabels(
    terminals.map((t, i) => ({
      id: t.id, by: symbols[i]!,
      width: Math.max(...texts[i]!.map((line, k) => textWidth(line, k === 0 ? 17 : 14, k === 0))),
      height: texts[i]!.length * LINE + 2,
      // Away from the side its wires leave by; sideways to the outside before the middle, where the neighbour's label wants to be.
      prefer: [leavesUp(t) ? 'below' : 'above', t.at.xMm > (box.left + box.right) / 2 ? 'right' : 'left'],
    })),
    { boxes: [...symbols, ...below], lines },
    { left: 2, right: widthPx - 2, top: Math.max(0, top - (up.height > 0 ? 0 : 4)), bottom: body.bottom + (down.height > 0 ? 0 : 4) },
  );
  // Where a whole label finds no clear place, its name alone is drawn: the size stands in every list.
  const full = terminals.map((t) => terminalLines(t));
  const first = place(full);
  const texts = full.map((text, i) => (first[i]!.clear ? text : text.slice(0, 1)));
  const places = first.every((p) => p.clear) ? first : place(texts);
  return {
    width: widthPx, height: body.bottom + Math.max(down.height, 2) + 2, projection, body, wires: routed,
    spots: terminals.map((terminal, i) => ({
      terminal, centre: spotOf.get(terminal.id)!, reach: reaches.get(terminal.id)!, label: places[i]!, lines: texts[i]!,
    })),
  };
}

/** The face's outline in mm: round all terminals, with room for their nuts; drawn, not measured. */
export function faceBounds(terminals: readonly FaceTerminal[]): ReturnType<typeof boundsMm> {
  const corners = terminals.flatMap((t) => {
    const reach = reachMm(t);
    return [{ xMm: t.at.xMm - reach, yMm: t.at.yMm - reach }, { xMm: t.at.xMm + reach, yMm: t.at.yMm + reach }];
  });
  return boundsMm(corners, BODY_MARGIN_MM);
}

/** The lines that stand by a terminal: its name, what is stamped on it when that differs, its size. */
export function terminalLines(terminal: FaceTerminal): string[] {
  const lines: string[] = [sayId(terminal.id)];
  if (terminal.marking !== '' && sayId(terminal.marking) !== sayId(terminal.id)) lines.push(DRAWING_WORDS.stamped(terminal.marking));
  if (terminal.sizeWords !== '') lines.push(terminal.sizeWords);
  return lines;
}

/** The room a terminal, what is crimped on it and a ring of `ringPx` that chooses it take on the sheet, px. */
export function symbolBox(terminal: FaceTerminal, centre: Spot, scale: number, wires: readonly Wire[], ringPx = 8): Box {
  const foot = footprintMm(terminal);
  const ends = wires.filter((w) => w.wasOn === terminal.id).map((w) => w.end);
  const ring = Math.max(0, ...ends.map((e) => (e?.form === 'ring' ? ringRadiusPx(e.holeMm, foot.x * scale, scale) : 0)));
  return boxAround(centre, 2 * Math.max(foot.x * scale + ringPx, ring + 1, 7 + ringPx), 2 * Math.max(foot.y * scale + ringPx, ring + 1, 7 + ringPx));
}

/** Outer radius of a ring lug drawn round a stud, px: its hole and a rim, never hidden by the nut. */
export function ringRadiusPx(holeMm: number, reach: number, scale: number): number {
  return Math.max((holeMm / 2 + 3.6) * scale, reach + 2);
}

type Hung = { wire: Wire; terminal: FaceTerminal; side: 'up' | 'down'; fan: number };

/** The way wires leave each terminal: from the upper half of the face up, from the lower half down. */
function sideChooser(terminals: readonly FaceTerminal[]): (t: FaceTerminal) => boolean {
  const ys = terminals.map((t) => t.at.yMm);
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const mixed = new Set(terminals.map((t) => t.form === 'stud')).size === 2;
  if (high - low < 4) return (t) => !mixed || t.form === 'stud';
  return (t) => t.at.yMm >= (low + high) / 2;
}

/** Each wire with its terminal, its way out and its place among the wires of that terminal. */
function hangWires(terminals: readonly FaceTerminal[], wires: readonly Wire[], leavesUp: (t: FaceTerminal) => boolean): Hung[] {
  const byId = new Map(terminals.map((t) => [t.id, t]));
  const count = new Map<string, number>();
  const total = new Map<string, number>();
  for (const w of wires) total.set(w.wasOn, (total.get(w.wasOn) ?? 0) + 1);
  const hung: Hung[] = [];
  for (const wire of wires) {
    const terminal = byId.get(wire.wasOn);
    if (terminal === undefined) continue;
    const k = count.get(wire.wasOn) ?? 0;
    count.set(wire.wasOn, k + 1);
    hung.push({ wire, terminal, side: leavesUp(terminal) ? 'up' : 'down', fan: k - (total.get(wire.wasOn)! - 1) / 2 });
  }
  return hung.sort((a, b) => a.terminal.at.xMm - b.terminal.at.xMm || a.terminal.at.yMm - b.terminal.at.yMm || a.fan - b.fan);
}

type Side = { boxWidth: number; leads: boolean; rows: number; boxHeight: number; height: number; lines: string[][] };

/** How large the labels of one side can be: full words where they fit in two rows, else letters, else tags alone. */
function laySide(hung: readonly Hung[], width: number): Side {
  if (hung.length === 0) return { boxWidth: 0, leads: false, rows: 0, boxHeight: 0, height: 0, lines: [] };
  const wanted = hung.map((_, i) => (width * (i + 0.5)) / hung.length);
  for (const size of LABEL_SIZES) {
    const rows = layLabelRows(wanted, width, size.width, 8);
    const last = size === LABEL_SIZES.at(-1);
    if (rows === null && !last) continue;
    const lines = hung.map((h) => wireLines(h.wire, size.width, size.leads, size.width < 50));
    const boxHeight = Math.max(...lines.map((l) => l.length)) * LINE + 6;
    const count = rows === null ? 1 : 1 + Math.max(...rows.map((r) => r.row));
    return { boxWidth: size.width, leads: size.leads, rows: count, boxHeight, height: ROUTE + count * (boxHeight + 8), lines };
  }
  throw new Error('no label size was tried');
}

/** The words of a wire's label: tag and letters, then where it leads. */
export function wireLines(wire: Wire, width: number, leads: boolean, tagOnly = false): string[] {
  if (tagOnly) return [wire.tag];
  const letters = readWireColour(wire.colour).letters || DRAWING_WORDS.noColour;
  const first = textWidth(`${wire.tag}  ${letters}`, 14, true) <= width ? [`${wire.tag} \u00a0${letters}`] : [wire.tag, letters];
  return leads ? [...first, ...breakLines(DRAWING_WORDS.leads[wire.leadsTo ?? 'unknown'], 14, width)] : first;
}

function routeSide(
  hung: readonly Hung[], terminals: readonly FaceTerminal[], projection: Projection, width: number, side: Side, body: Box, way: 'up' | 'down',
): FaceWire[] {
  if (hung.length === 0) return [];
  const sign = way === 'up' ? -1 : 1;
  const edge = way === 'up' ? body.top : body.bottom;
  const exits = hung.map((h) => clearColumn(h, terminals, projection, sign));
  const order = hung.map((_, i) => i).sort((a, b) => exits[a]! - exits[b]!);
  const sorted = order.map((i) => exits[i]!);
  const columns = spreadApart(sorted, order.slice(1).map(() => 14), 8, width - 8);
  const rows = layLabelRows(columns, width, side.boxWidth, 8)
    ?? spreadApart(columns, order.slice(1).map(() => side.boxWidth), side.boxWidth / 2, width - side.boxWidth / 2)
      .map((lane) => ({ lane, row: 0, left: lane - side.boxWidth / 2, right: lane + side.boxWidth / 2 }));
  return order.map((index, place) => {
    const h = hung[index]!;
    const row = rows[place]!;
    const start = toSheet(h.terminal.at, projection);
    const column = columns[place]!;
    const near = edge + sign * (ROUTE + row.row * (side.boxHeight + 8));
    const label: Box = way === 'up'
      ? { left: row.left, right: row.right, bottom: near, top: near - side.boxHeight }
      : { left: row.left, right: row.right, top: near, bottom: near + side.boxHeight };
    const points: Spot[] = [start];
    if (Math.abs(column - start.x) >= 0.5) points.push({ x: column, y: start.y + sign * Math.min(26, Math.abs(edge - start.y) * 0.6 + 6) });
    points.push({ x: column, y: edge + sign * 3 }, { x: row.lane, y: edge + sign * (ROUTE - 4) }, { x: row.lane, y: near });
    return { wire: h.wire, points, label, lines: side.lines[index]!, side: way };
  });
}

/** The column in which a wire can leave its terminal without crossing a terminal farther out, px. */
function clearColumn(h: Hung, terminals: readonly FaceTerminal[], projection: Projection, sign: number): number {
  const start = toSheet(h.terminal.at, projection);
  const half = wireWidthPx(h.wire) / 2;
  const wanted = start.x + h.fan * (half * 2 + 8);
  const blocks = terminals
    .filter((t) => t.id !== h.terminal.id)
    .map((t) => ({ spot: toSheet(t.at, projection), reach: Math.max(reachMm(t) * projection.scale, 8) + half + 5 }))
    .filter(({ spot }) => (spot.y - start.y) * sign > 6);
  const free = (x: number): boolean => blocks.every(({ spot, reach }) => Math.abs(spot.x - x) >= reach - 0.01);
  const candidates = [wanted, ...blocks.flatMap(({ spot, reach }) => [spot.x - reach, spot.x + reach])].filter(free);
  return candidates.sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted))[0] ?? wanted;
}
