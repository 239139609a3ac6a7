import type { Plan, Wire } from '../../catalog-schema/index.ts';
import { type FaceSheet, faceBounds, layFaceSheet, symbolBox } from './face-sheet.ts';
import type { FaceTerminal } from './face-terminals.ts';
import { type Box, type PointMm, type Spot, boxAround, toSheet } from './geometry.ts';
import { type LabelPlace, placeLabels, textWidth } from './label-placing.ts';
import { readWireColour } from './wire-colours.ts';
import { uprightPieces, wireWidthPx } from './wire-line.ts';
import { sayId } from './words.ts';

export type FaceOverInput = Readonly<{
  oldTerminals: readonly FaceTerminal[]; newTerminals: readonly FaceTerminal[]
  wires: readonly Wire[]; plan: Plan; widthPx: number
}>;

/** A wire's way from its old place to its new one: a bow, its label by its middle. `moved`: it goes on another terminal than the one in its place. */
export type WireWay = Readonly<{ wire: Wire; moved: boolean; from: Spot; bend: Spot; to: Spot; label: LabelPlace; words: string }>;
export type UnderSpot = Readonly<{ terminal: FaceTerminal; centre: Spot; label: LabelPlace | undefined }>;

/** The new face in ink with the wires hung where the plan puts them, the old face in grey beneath it, and the way of each wire that moves. */
export type FaceOverSheet = Readonly<{
  face: FaceSheet; underBody: Box; under: readonly UnderSpot[]; ways: readonly WireWay[]
  /** wires that end on no terminal of the new part: on its case or chassis, or nowhere */
  elsewhere: readonly Readonly<{ wire: Wire; to: string | undefined }>[]
}>;

/** Places nearer to one another than this are one place, mm. */
const SAME_MM = 1;
/** A wire that keeps its terminal has a way to be seen where that terminal lies farther off than this, mm. */
const SEEN_MM = 10;
/** How far a wire's way bows out, as a part of its length. */
const BOW = 0.22;

/** Lays both faces over each other in the frame they share, bracket down, to one scale. */
export function layFaceOverSheet(input: FaceOverInput): FaceOverSheet {
  const { oldTerminals, newTerminals, wires, plan } = input;
  const byId = new Map(newTerminals.map((terminal) => [terminal.id, terminal]));
  const old = new Map(oldTerminals.map((terminal) => [terminal.id, terminal]));
  const placed = wires.map((wire) => ({ wire, to: plan.wires.find(({ tag }) => tag === wire.tag)?.to }));
  const hung = placed.filter(({ to }) => to !== undefined && byId.has(to)).map(({ wire, to }) => ({ ...wire, wasOn: to! }));
  const moves = placed.flatMap(({ wire, to }) => {
    const moved = plan.wires.some((each) => each.tag === wire.tag && each.moved);
    const [from, onto] = [old.get(wire.wasOn)?.at, to === undefined ? undefined : byId.get(to)?.at];
    return from === undefined || onto === undefined || apartMm(from, onto) < (moved ? SAME_MM : SEEN_MM) ? [] : [{ wire, moved, from, onto }];
  });
  const bends: PointMm[] = [];
  for (const { from, onto } of moves) bends.push(bendOf(from, onto, [...oldTerminals, ...newTerminals].map(({ at }) => at), bends));
  const face = layFaceSheet({
    terminals: newTerminals, wires: hung, widthPx: input.widthPx, under: oldTerminals, paths: moves.map(({ from, onto }, i) => curve(from, bends[i]!, onto)),
  });
  const spot = (point: PointMm): Spot => toSheet(point, face.projection);
  const { scale } = face.projection;

  const symbols = [...newTerminals, ...oldTerminals].map((terminal) => symbolBox(terminal, spot(terminal.at), scale, [], 2));
  const taken = [...symbols, ...face.spots.map(({ label }) => label.box), ...face.wires.map(({ label }) => label)];
  const bounds: Box = { left: 2, right: face.width - 2, top: 0, bottom: face.height };
  const words = moves.map(({ wire }) => `${wire.tag} ${readWireColour(wire.colour).letters}`.trim());
  const curves = moves.map(({ from, onto }, i) => curve(from, bends[i]!, onto).map(spot));
  const middles = curves.map((points) => points[Math.floor(points.length / 2)]!);
  const lines = [
    ...curves.map((points, i) => ({ points, half: wireWidthPx(moves[i]!.wire) / 2 })),
    ...face.wires.map(({ wire, points }) => ({ points: uprightPieces(points), half: wireWidthPx(wire) / 2 + 1 })),
  ];
  const covered = oldTerminals.filter((terminal) => !newTerminals.some((other) => sayId(other.id) === sayId(terminal.id) && apartMm(other.at, terminal.at) < SAME_MM));
  const places = placeLabels([
    ...moves.map((_, i) => ({ id: `way ${i}`, by: boxAround(middles[i]!, 10, 10), width: textWidth(words[i]!, 14, true), height: 18 })),
    ...covered.map((terminal) => ({
      id: `old ${terminal.id}`, by: symbolBox(terminal, spot(terminal.at), scale, [], 1), width: textWidth(sayId(terminal.id), 14), height: 17,
    })),
  ], { boxes: taken, lines }, bounds, 5);

  const box = faceBounds(oldTerminals);
  const [topLeft, bottomRight] = [spot({ xMm: box.left, yMm: box.top }), spot({ xMm: box.right, yMm: box.bottom })];
  return {
    face,
    underBody: { left: topLeft.x, top: topLeft.y, right: bottomRight.x, bottom: bottomRight.y },
    under: oldTerminals.map((terminal) => ({
      terminal, centre: spot(terminal.at), label: places[moves.length + covered.indexOf(terminal)] === undefined || !covered.includes(terminal)
        ? undefined : places[moves.length + covered.indexOf(terminal)],
    })),
    ways: moves.map(({ wire, moved, from, onto }, i) => (
      { wire, moved, from: spot(from), bend: spot(bends[i]!), to: spot(onto), label: places[i]!, words: words[i]! }
    )),
    elsewhere: placed.filter(({ to }) => to === undefined || !byId.has(to)),
  };
}

/** The point that draws a way out into a bow: of the two sides the one on which it keeps farther off terminals and other ways. */
function bendOf(from: PointMm, to: PointMm, terminals: readonly PointMm[], others: readonly PointMm[]): PointMm {
  const [dx, dy] = [to.xMm - from.xMm, to.yMm - from.yMm];
  const sides = [BOW, -BOW].map((side): PointMm => ({ xMm: (from.xMm + to.xMm) / 2 - dy * side * 2, yMm: (from.yMm + to.yMm) / 2 + dx * side * 2 }));
  const foreign = terminals.filter((at) => apartMm(at, from) >= SAME_MM && apartMm(at, to) >= SAME_MM);
  const room = (bend: PointMm): number => Math.min(
    ...curve(from, bend, to).slice(1, -1).flatMap((point) => foreign.map((at) => apartMm(at, point))), ...others.map((other) => apartMm(other, bend)), 1e6);
  return room(sides[0]!) >= room(sides[1]!) ? sides[0]! : sides[1]!;
}

/** A quadratic curve as nine points. */
function curve(from: PointMm, bend: PointMm, to: PointMm): PointMm[] {
  return Array.from({ length: 9 }, (_, i) => {
    const t = i / 8;
    const [a, b, c] = [(1 - t) ** 2, 2 * t * (1 - t), t ** 2];
    return { xMm: a * from.xMm + b * bend.xMm + c * to.xMm, yMm: a * from.yMm + b * bend.yMm + c * to.yMm };
  });
}

function apartMm(a: PointMm, b: PointMm): number {
  return Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);
}
