import type { InputFault, JobPhotograph, Measured, PhotographMark, PhotographThing, Read } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { accept, type EdgeMarks, type Tap } from './card.ts';
import type { Spot } from './homography.ts';
import { mapSpot, measureCard, type CardPlane } from './measure-card.ts';
import { measureAcross, measureDistance, measurePlace, measureRound, measureSpacing, type Length } from './measure-taps.ts';
import type { SnappedEdge } from './snap-edge.ts';

/** What was marked on a photograph, as its job keeps it. */
export type MarkedPhotograph = Omit<JobPhotograph, 'name' | 'at'>;

/** A snapped edge as a line to draw, px. */
export interface EdgeLine { readonly from: Spot; readonly to: Spot }

/**
 * What one marked thing comes to: the place of its middle in the record's frame, its diameter or length where its marks tell one.
 * `offRound`: one of the marks on its rim lies further off the circle of the others than a hand is.
 */
export interface MeasuredThing { readonly xMm: number; readonly yMm: number; readonly acrossMm?: Length; readonly offRound?: true }

/**
 * All that a marked photograph tells. The frame is the record's: terminal face towards the reader, bracket down, x to the right, y up,
 * origin in the middle of the marked holes (of the terminals where there is no hole).
 */
export interface MeasuredPhotograph {
  /** edges with two or more marks */
  readonly edges: Readonly<Record<string, Read<EdgeLine>>>;
  /** the edges by name in their order around the card; in the order in which they were made until four are found */
  readonly order: readonly string[];
  /** undefined until four edges are found */
  readonly card: Read<{ pxPerMm: number; longEdges: readonly string[]; unclear: boolean }> | undefined;
  /** things with as many marks as they take */
  readonly things: Readonly<Record<string, Read<MeasuredThing>>>;
  /** every pair of holes, centre to centre */
  readonly spacings: readonly { readonly a: string; readonly b: string; readonly length: Read<Length> }[];
  /** how far any hole may lie from its place among the others, mm; undefined below two holes */
  readonly plusMinusMm: number | undefined;
  readonly cautions: readonly string[];
  readonly assumptions: readonly string[];
}

/** The fewest marks by which a thing is known. */
const LEAST_MARKS: Readonly<Record<PhotographThing['by'], number>> = { middle: 1, across: 2, rim: 3 };
/** Step up the picture by which its up is found in the plane, px. */
const UP_PX = 40;

/**
 * Measures everything that is marked.
 * @param snap an edge's marks moved onto the picture's own edge: `snapMarks` of the picture, remembered or not
 */
export function measureMarked(marked: MarkedPhotograph, snap: (marks: readonly PhotographMark[]) => Read<SnappedEdge>): MeasuredPhotograph {
  const snapped = Object.entries(marked.edges ?? {}).filter(([, { marks }]) => marks.length > 1).map(([name, { marks }]) => ({ name, edge: snap(marks) }));
  const edges = Object.fromEntries(snapped.map(({ name, edge }) => [name, edge.ok ? accept(lineOf(edge.value)) : edge]));
  const found = snapped.flatMap(({ name, edge }) => (edge.ok ? [{ name, edge: edge.value }] : []));
  const nothing = { edges, things: {}, spacings: [], plusMinusMm: undefined, cautions: [], assumptions: [] };
  if (found.length < 4) return { ...nothing, order: Object.keys(marked.edges ?? {}), card: undefined };

  const ring = orderAround(found);
  const order = ring.map(({ name }) => name);
  const open = (raisedMm: Measured | undefined): Read<CardPlane> => {
    const long = order.indexOf(marked.longEdge ?? '');
    return measureCard({
      picture: marked, edges: ring.map(({ edge }): EdgeMarks => edge.marks), raisedMm,
      longEdges: long < 0 ? undefined : long % 2 === 0 ? 'first-and-third' : 'second-and-fourth',
    });
  };
  const bracket = open(marked.raisedMm?.holes);
  const terminals = marked.raisedMm?.terminals === undefined ? bracket : open(marked.raisedMm.terminals);
  if (!bracket.ok || !terminals.ok) {
    const faults = bracket.ok ? terminals.ok ? [] : terminals.faults : bracket.faults;
    return { ...nothing, order, card: { ok: false, faults: faults.map((fault) => nameEdge(fault)) } };
  }
  const planeOf = (thing: PhotographThing): CardPlane => (thing.what === 'terminal' ? terminals.value : bracket.value);
  const ready = Object.entries(marked.things ?? {}).filter(([, { by, marks }]) => marks.length >= LEAST_MARKS[by]);
  const holes = ready.filter(([, { what }]) => what === 'hole');
  const frame = findFrame(marked, ready, planeOf);
  const things = Object.fromEntries(ready.map(([name, thing]) => [name, measureThing(planeOf(thing), thing, frame.place)]));
  const spacings = holes.flatMap(([a, first], k) => holes.slice(k + 1).map(([b, second]) => ({
    a, b, length: measureSpacing(bracket.value, middleOf(first), middleOf(second)),
  })));
  const known = spacings.flatMap(({ length }) => (length.ok ? [length.value.plusMinus] : []));
  const { pxPerMm, longEdges, cautions } = bracket.value;
  return {
    edges, order, things, spacings, cautions,
    card: accept({ pxPerMm, longEdges: order.filter((_, k) => (k % 2 === 0) === (longEdges === 'first-and-third')), unclear: cautions.length > 0 }),
    // two holes that are each off by so much, apart from one another, are off by the square root of two of it in their spacing
    plusMinusMm: known.length === 0 ? undefined : Math.max(...known) / Math.SQRT2,
    assumptions: [...new Set([...bracket.value.assumptions, ...terminals.value.assumptions, describeSetting('snapReach'), describeSetting('snapInset'), ...frame.assumptions])],
  };
}

function lineOf({ marks, line }: SnappedEdge): EdgeLine {
  const reaches = marks.points.map(({ xPx, yPx }) => (xPx - line.centre.x) * line.along.x + (yPx - line.centre.y) * line.along.y);
  const at = (t: number) => ({ x: line.centre.x + t * line.along.x, y: line.centre.y + t * line.along.y });
  return { from: at(Math.min(...reaches)), to: at(Math.max(...reaches)) };
}

/** Four edges in their order around the card, from the first made on and towards the earlier made of its neighbours. */
function orderAround<E extends { readonly edge: SnappedEdge }>(edges: readonly E[]): E[] {
  const centres = edges.map(({ edge }) => edge.line.centre);
  const middle = { x: centres.reduce((sum, { x }) => sum + x, 0) / edges.length, y: centres.reduce((sum, { y }) => sum + y, 0) / edges.length };
  const angle = (k: number) => Math.atan2(centres[k]!.y - middle.y, centres[k]!.x - middle.x);
  const around = edges.map((_, k) => k).toSorted((a, b) => angle(a) - angle(b));
  const start = around.indexOf(0);
  const ring = around.map((_, k) => around[(start + k) % around.length]!);
  const turned = ring[1]! <= ring.at(-1)! ? ring : [ring[0]!, ...ring.slice(1).toReversed()];
  return turned.map((k) => edges[k]!);
}

/** The fault of an edge says which it is by its number around the card; the place among its snapped marks means nothing to a reader. */
function nameEdge(fault: InputFault): InputFault {
  const edge = /^edges\[(\d)\]/.exec(fault.path)?.[1];
  return edge === undefined ? fault : { ...fault, path: `edges[${edge}]` };
}

function tapsOf({ marks }: PhotographThing): readonly Tap[] { return marks; }
function middleOf(thing: PhotographThing) { return { by: thing.by, taps: tapsOf(thing) }; }

function measureThing(plane: CardPlane, thing: PhotographThing, place: (spot: Spot) => Spot): Read<MeasuredThing> {
  const taps = tapsOf(thing);
  const build = (x: Length, y: Length, acrossMm?: Length): MeasuredThing => {
    const at = place({ x: x.value, y: y.value });
    return { xMm: at.x, yMm: at.y, ...(acrossMm === undefined ? {} : { acrossMm }) };
  };
  if (thing.by === 'middle') {
    const at = measurePlace(plane, taps[0]!);
    return at.ok ? accept(build(at.value.xMm, at.value.yMm)) : at;
  }
  const round = thing.by === 'rim' ? measureRound(plane, taps) : measureAcross(plane, taps[0]!, taps[1]!);
  if (!round.ok) return round;
  const { centre, diameterMm, worstSigma } = round.value;
  if (thing.what !== 'length') return accept({ ...build(centre.xMm, centre.yMm, diameterMm), ...(worstSigma > settingOf('photographOffRound') ? { offRound: true } : {}) });
  const length = measureDistance(plane, taps[0]!, taps[1]!);
  return length.ok ? accept(build(centre.xMm, centre.yMm, length.value)) : length;
}

/** From the card's frame to the record's: origin, turn and side. */
function findFrame(
  marked: MarkedPhotograph, things: readonly (readonly [string, PhotographThing])[], planeOf: (thing: PhotographThing) => CardPlane,
): { place: (spot: Spot) => Spot; assumptions: string[] } {
  const keep = (spot: Spot) => spot;
  const middles = (what: PhotographThing['what']) => things.flatMap(([, thing]) => {
    const measured = thing.what === what ? measureThing(planeOf(thing), thing, keep) : undefined;
    return measured?.ok ? [{ x: measured.value.xMm, y: measured.value.yMm }] : [];
  });
  const [holes, terminals] = [middles('hole'), middles('terminal')];
  const origin = centreOf(holes.length > 0 ? holes : terminals);
  const marks = things.flatMap(([, thing]) => thing.marks);
  const plane = things[0] && planeOf(things[0][1]);
  const at = centreOf(marks.map(({ xPx, yPx }) => ({ x: xPx, y: yPx })));
  const [low, high] = plane ? [mapSpot(plane.map, at), mapSpot(plane.map, { x: at.x, y: at.y - UP_PX })] : [undefined, undefined];
  if (!low || !high) return { place: keep, assumptions: [] };
  // the bracket's side of the picture becomes down: the picture is turned by quarter turns, counter-clockwise
  const quarters = { down: 0, left: 1, up: 2, right: 3 }[marked.bracketSide ?? 'down'];
  let turn = Math.PI / 2 - Math.atan2(high.y - low.y, high.x - low.x) + (quarters * Math.PI) / 2;
  const assumptions: string[] = [];
  const [first, second] = holes;
  if (first && second) {
    const runs = Math.atan2(second.y - first.y, second.x - first.x) + turn;
    const off = runs - Math.round(runs / (Math.PI / 2)) * (Math.PI / 2);
    if (Math.abs(off) <= settingOf('photographLevel') * (Math.PI / 180)) {
      turn -= off;
      assumptions.push(describeSetting('photographLevel'));
    }
  }
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const side = marked.seenFrom === 'behind' ? -1 : 1;
  return {
    place: ({ x, y }) => ({ x: side * (c * (x - origin.x) - s * (y - origin.y)), y: s * (x - origin.x) + c * (y - origin.y) }),
    assumptions,
  };
}

function centreOf(spots: readonly Spot[]): Spot {
  if (spots.length === 0) return { x: 0, y: 0 };
  return { x: spots.reduce((sum, { x }) => sum + x, 0) / spots.length, y: spots.reduce((sum, { y }) => sum + y, 0) / spots.length };
}
