import type { Plan, Wire } from '../../catalog-schema/index.ts';
import { faceBounds, symbolBox, wireLines } from './face-sheet.ts';
import { type FaceTerminal, reachMm } from './face-terminals.ts';
import { type Box, type Projection, type Spot, fitInto, toSheet } from './geometry.ts';
import { type LabelPlace, breakLines, placeLabels, textWidth } from './label-placing.ts';
import { layLabelRows, spreadApart } from './spread.ts';
import { uprightPieces, wireWidthPx } from './wire-line.ts';
import { DRAWING_WORDS, sayId } from './words.ts';

export type WiringInput = Readonly<{
  oldTerminals: readonly FaceTerminal[]; newTerminals: readonly FaceTerminal[]
  wires: readonly Wire[]; plan: Plan; widthPx: number
}>;

export type WiringFate = 'stays' | 'moves' | 'left-off';
export type WiringLane = Readonly<{
  wire: Wire; fate: WiringFate; newEnd: boolean; to: string; above: readonly Spot[]; below: readonly Spot[]
  label: Box; lines: readonly string[]; fateLines: readonly string[]
}>;
export type WiringSpot = Readonly<{ terminal: FaceTerminal; centre: Spot; reach: number; label: LabelPlace; lines: readonly string[] }>;
/** The old face, a band of labels, the new face; and under it the case, the chassis and the jumpers. */
export type WiringSheet = Readonly<{
  width: number; height: number
  old: { projection: Projection; body: Box; spots: readonly WiringSpot[] }; next: { projection: Projection; body: Box; spots: readonly WiringSpot[] }
  lanes: readonly WiringLane[]
  points: readonly Readonly<{ id: 'case' | 'chassis'; at: Spot }>[]
  jumpers: readonly Readonly<{ from: string; to: string; points: readonly Spot[]; label: Readonly<{ at: Spot; anchor: 'start' | 'middle' | 'end'; words: string }> }>[]
}>;

const TITLE = 4;
const ROUTE = 46;
const LINE = 17;
const SIZES = [{ width: 112, leads: true }, { width: 88, leads: true }, { width: 60, leads: false }, { width: 46, leads: false }] as const;

/** Lays both faces to one scale, old above new, and leads every wire from its old place over its label to its new one. */
export function layWiringSheet(input: WiringInput): WiringSheet {
  const { oldTerminals, newTerminals, wires, plan, widthPx } = input;
  const boxes = { old: faceBounds(oldTerminals), next: faceBounds(newTerminals) };
  const frame: Box = { left: 42, right: widthPx - 42, top: 0, bottom: Math.min(Math.max(widthPx * 0.56, 200), 300) };
  const scale = Math.min(fitInto(boxes.old, frame, 6).scale, fitInto(boxes.next, frame, 6).scale);
  const project = (box: typeof boxes.old, top: number): { projection: Projection; body: Box } => {
    const origin = { x: widthPx / 2 - ((box.left + box.right) / 2) * scale, y: top + box.top * scale };
    return {
      projection: { scale, origin },
      body: { left: origin.x + box.left * scale, right: origin.x + box.right * scale, top, bottom: top + (box.top - box.bottom) * scale },
    };
  };
  const old = project(boxes.old, TITLE);
  const fates = new Map(plan.wires.map((w) => [w.tag, w]));
  const hung = wires.filter((w) => oldTerminals.some((t) => t.id === w.wasOn));

  // Case and chassis stand under the new face whenever a wire or a jumper ends there.
  const ends = [...plan.wires.map((w) => w.to), ...plan.jumpers.flatMap((j) => [j.from, j.to])];
  const grounds = (['case', 'chassis'] as const).filter((id) => ends.includes(id));
  const guess = project(boxes.next, 0);
  const xOld = (w: Wire): number => toSheet(oldTerminals.find((t) => t.id === w.wasOn)!.at, old.projection).x;
  const groundX = (id: string): number => grounds.length === 1 ? widthPx - 60 : id === 'case' ? 60 : widthPx - 60;
  const xNew = (id: string | undefined): number | undefined => {
    const terminal = newTerminals.find((t) => t.id === id);
    return terminal !== undefined ? toSheet(terminal.at, guess.projection).x : id === 'case' || id === 'chassis' ? groundX(id) : undefined;
  };
  const middle = (w: Wire): number => (xOld(w) + (xNew(fates.get(w.tag)?.to) ?? xOld(w))) / 2;
  const order = [...hung].sort((a, b) => middle(a) - middle(b) || xOld(a) - xOld(b));

  const wanted = spreadApart(order.map(middle), order.slice(1).map(() => 1), 0, widthPx);
  const size = SIZES.find((s) => layLabelRows(wanted, widthPx, s.width, 8) !== null) ?? SIZES[3];
  const laid = layLabelRows(wanted, widthPx, size.width, 8);
  // A label interrupts its wire, so in a single row the wire runs through the middle of it.
  const rows = (laid?.every((r) => r.row === 0) ? laid.map((r) => ({ ...r, lane: (r.left + r.right) / 2 })) : laid)
    ?? spreadApart(wanted, order.slice(1).map(() => size.width), size.width / 2, widthPx - size.width / 2)
      .map((lane) => ({ lane, row: 0, left: lane - size.width / 2, right: lane + size.width / 2 }));
  const texts = order.map((w) => wireLines(w, size.width, size.leads));
  const fateTexts = order.map((w) => sayFate(plan, w.tag, size.width));
  const boxHeight = Math.max(0, ...order.map((w, i) =>
    (texts[i]!.length + fateTexts[i]!.length) * LINE + 10 + (fates.has(w.tag) ? 0 : 28)));
  const rowCount = 1 + Math.max(0, ...rows.map((r) => r.row));
  const bandTop = old.body.bottom + ROUTE;
  const bandBottom = bandTop + (order.length === 0 ? 0 : rowCount * (boxHeight + 10) - 10);
  const next = project(boxes.next, bandBottom + ROUTE + TITLE);

  const groundY = next.body.bottom + 58;
  const points = grounds.map((id) => ({ id, at: { x: groundX(id), y: groundY } }));
  const spotOf = (id: string): Spot | undefined => {
    const terminal = newTerminals.find((t) => t.id === id);
    return terminal !== undefined ? toSheet(terminal.at, next.projection) : points.find((p) => p.id === id)?.at;
  };

  const oldColumns = columnsOf(order.map((w) => w.wasOn), order, oldTerminals, old.projection, 1);
  const newColumns = columnsOf(order.map((w) => fates.get(w.tag)?.to ?? ''), order, newTerminals, next.projection, -1);
  const lanes = order.map((wire, i): WiringLane => {
    const row = rows[i]!;
    const top = bandTop + row.row * (boxHeight + 10);
    const own = (texts[i]!.length + fateTexts[i]!.length) * LINE + 10;
    const label: Box = { left: row.left, right: row.right, top, bottom: top + own };
    const fate = fates.get(wire.tag);
    const start = toSheet(oldTerminals.find((t) => t.id === wire.wasOn)!.at, old.projection);
    const above: Spot[] = [start, ...column(start, oldColumns[i]!, old.body.bottom + 3, 1), { x: row.lane, y: bandTop - 3 }, { x: row.lane, y: label.top + 2 }];
    const end = fate === undefined ? undefined : spotOf(fate.to);
    let below: Spot[] = [{ x: row.lane, y: label.bottom - 2 }, { x: row.lane, y: label.bottom + 16 }];
    if (end !== undefined && fate !== undefined) {
      const ground = fate.to === 'case' || fate.to === 'chassis';
      const goal = ground ? [{ x: end.x, y: next.body.top - 6 }, end] : [...column(end, newColumns[i]!, next.body.top - TITLE - 3, -1).toReversed(), end];
      below = [{ x: row.lane, y: label.bottom - 2 }, { x: row.lane, y: bandBottom + 3 }, ...goal];
    }
    return {
      wire, above, below, label, lines: texts[i]!, fateLines: fateTexts[i]!, to: fate?.to ?? '', newEnd: fate?.newEnd ?? false,
      fate: fate === undefined ? 'left-off' : fate.moved ? 'moves' : 'stays',
    };
  });

  const jumpers = plan.jumpers.flatMap((jumper, i) => {
    const [from, to] = [spotOf(jumper.from), spotOf(jumper.to)];
    if (from === undefined || to === undefined) return [];
    const level = next.body.bottom + 24 + i * 16;
    const run = [from, { x: from.x, y: level }, { x: to.x, y: level }, to];
    return [{ ...jumper, points: run, label: placeJumperWords(DRAWING_WORDS.jumperFromTo(sayId(jumper.from), sayId(jumper.to)), from.x, to.x, level, to.y > level, widthPx) }];
  });
  const height = next.body.bottom + (points.length > 0 ? 92 : jumpers.length > 0 ? 34 + jumpers.length * 16 : 4) + (jumpers.length > 0 ? 20 : 0);
  return {
    width: widthPx, height, lanes, points, jumpers,
    old: { ...old, spots: labelSpots(oldTerminals, old, [], lanes.map((l) => ({ points: l.above, wire: l.wire })), 'above', widthPx) },
    next: {
      ...next,
      spots: labelSpots(newTerminals, next, [], [...lanes.map((l) => ({ points: l.below, wire: l.wire })), ...jumpers.map((j) => ({ points: j.points, wire: {} }))], 'below', widthPx),
    },
  };
}

/** Under the level run of a jumper, on the inner side of the leg that goes down to a ground. */
function placeJumperWords(words: string, fromX: number, toX: number, level: number, down: boolean, width: number): { at: Spot; anchor: 'start' | 'middle' | 'end'; words: string } {
  const half = textWidth(words, 14, true) / 2;
  const y = level + 20;
  if (!down) return { at: { x: Math.min(Math.max((fromX + toX) / 2, half + 4), width - half - 4), y }, anchor: 'middle', words };
  return toX >= fromX ? { at: { x: toX - 12, y }, anchor: 'end', words } : { at: { x: toX + 12, y }, anchor: 'start', words };
}

function sayFate(plan: Plan, tag: string, width: number): string[] {
  const fate = plan.wires.find((w) => w.tag === tag);
  if (fate === undefined) return breakLines(DRAWING_WORDS.leftOffShort, 14, width, true);
  const words = [fate.moved ? DRAWING_WORDS.movesTo(sayId(fate.to)) : DRAWING_WORDS.stays, ...(fate.newEnd ? [DRAWING_WORDS.newEnd] : [])];
  return words.flatMap((w) => breakLines(w, 14, width, true));
}

/** Columns in which wires pass their face: spread where several hang on one terminal, clear of terminals in the way. */
function columnsOf(ids: readonly string[], order: readonly Wire[], terminals: readonly FaceTerminal[], projection: Projection, sign: number): number[] {
  const wish = ids.map((id, i) => {
    const terminal = terminals.find((t) => t.id === id);
    if (terminal === undefined) return 0;
    const start = toSheet(terminal.at, projection);
    const same = ids.map((other, k) => [other, k] as const).filter(([other]) => other === id).map(([, k]) => k);
    const half = wireWidthPx(order[i]!) / 2;
    const want = start.x + (same.indexOf(i) - (same.length - 1) / 2) * (half * 2 + 7);
    const blocks = terminals.filter((t) => t.id !== id && (toSheet(t.at, projection).y - start.y) * sign > 6)
      .map((t) => ({ x: toSheet(t.at, projection).x, reach: Math.max(reachMm(t) * projection.scale, 8) + half + 5 }));
    const free = (x: number): boolean => blocks.every((b) => Math.abs(b.x - x) >= b.reach - 0.01);
    return [want, ...blocks.flatMap((b) => [b.x - b.reach, b.x + b.reach])].filter(free)
      .sort((a, b) => Math.abs(a - want) - Math.abs(b - want))[0] ?? want;
  });
  const sorted = wish.map((_, i) => i).sort((a, b) => wish[a]! - wish[b]! || a - b);
  const placed = spreadApart(sorted.map((i) => wish[i]!), sorted.slice(1).map(() => 11), -Infinity, Infinity);
  const columns = [...wish];
  sorted.forEach((index, k) => { columns[index] = placed[k]!; });
  return columns;
}

/** From a terminal to the edge of its face in a column, without the terminal itself. */
function column(start: Spot, x: number, edge: number, sign: number): Spot[] {
  if (Math.abs(x - start.x) < 0.5) return [{ x, y: edge }];
  return [{ x, y: start.y + sign * Math.min(26, Math.abs(edge - start.y) * 0.7) }, { x, y: edge }];
}

function labelSpots(
  terminals: readonly FaceTerminal[], face: { projection: Projection; body: Box }, wires: readonly Wire[],
  lines: readonly Readonly<{ points: readonly Spot[]; wire: Pick<Wire, 'areaMm2'> }>[], prefer: 'above' | 'below', width: number,
): WiringSpot[] {
  const { projection, body } = face;
  const boxes = terminals.map((t) => symbolBox(t, toSheet(t.at, projection), projection.scale, wires, prefer === 'above' ? 1 : 8));
  const texts = terminals.map((t) => [sayId(t.id)]);
  const middle = (body.left + body.right) / 2;
  const places = placeLabels(
    terminals.map((t, i) => ({
      id: t.id, by: boxes[i]!, width: Math.max(...texts[i]!.map((line, k) => textWidth(line, k === 0 ? 17 : 14, k === 0))), height: texts[i]!.length * LINE + 2,
      prefer: [prefer, toSheet(t.at, projection).x > middle ? 'right' : 'left'] as const,
    })),
    { boxes, lines: lines.map((l) => ({ points: uprightPieces(l.points), half: wireWidthPx(l.wire) / 2 + 1 })) },
    { left: 2, right: width - 2, top: body.top, bottom: body.bottom },
  );
  return terminals.map((terminal, i) => ({
    terminal, centre: toSheet(terminal.at, projection), reach: Math.max(reachMm(terminal) * projection.scale, 6), label: places[i]!, lines: texts[i]!,
  }));
}
