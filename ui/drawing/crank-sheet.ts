import type { CrankNode } from '../../catalog-schema/index.ts';
import { CRANK_PARTS, sayPart, type CrankPart, type PartState } from './crank-parts.ts';
import { boxAround, type Box, type Spot } from './geometry.ts';
import { textWidth } from './label-placing.ts';
import type { InterlocksAct } from './state-sheet.ts';
import { DRAWING_WORDS } from './words.ts';

export type CrankInput = Readonly<{ widthPx: number; interlocks: InterlocksAct; startSwitch: boolean; states: readonly PartState[] }>;

/** A point that a meter can touch. */
export type CrankSpot = Readonly<{ node: CrankNode; at: Spot; target: Box }>;
/** Words beside a part: its name in a line or two, and how it stands in the last. */
export type CrankLabel = Readonly<{ part: CrankPart | undefined; x: number; y: number; anchor: 'start' | 'middle' | 'end'; lines: readonly string[]; box: Box }>;
/** What of the circuit is one part: the lines that carry its current, and the body it has. */
export type CrankPiece = Readonly<{ part: CrankPart; lines: readonly string[]; heavy: boolean; body: Box | undefined; state: PartState }>;
export type CrankSheet = Readonly<{
  width: number; height: number; spots: readonly CrankSpot[]; pieces: readonly CrankPiece[]; labels: readonly CrankLabel[]
  start: Readonly<{ at: Spot; target: Box; held: boolean }>
  feedLock: Spot | undefined; returnLock: Spot | undefined
  relay: Box; coil: Box; contact: Readonly<{ from: Spot; to: Spot; closed: boolean }>
  battery: Box; starter: Box; gear: Box; pinion: Box; engine: Box; bar: Readonly<{ from: number; to: number; y: number }>
  feedFrom: Spot
}>;

/** From this width on the whole drawing grows, up to a quarter. */
const GROWS_FROM = 480;
const MOST_GROWN = 1.25;

/** How much larger than laid out the drawing is shown in so much room. */
export function scaleOfCrank(roomPx: number): number {
  return Math.min(Math.max(roomPx / GROWS_FROM, 1), MOST_GROWN);
}

/** Narrower than this and names would lie on one another. */
export const LEAST_CRANK_WIDTH = 300;
const TARGET = 48;
const EDGE = 44;
const LINE = 16;
const ROW = { heavy: 92, post: 150, coil: 184, feedLock: 266, start: 318, feedFoot: 352, minusPost: 300, minusClamp: 358, returnLock: 350, bar: 448 } as const;
const BODY_HALF = 36;
const HEIGHT = 508;

/**
 * Lays the cranking circuit as it hangs together on every machine: battery at the left, relay in the middle, starter and engine at the right,
 * chassis below; the coil's feed from the battery cable through START, its return to chassis. Only the interlocks differ between machines.
 */
export function layCrankSheet({ widthPx, interlocks, startSwitch, states }: CrankInput): CrankSheet {
  const width = Math.max(widthPx, LEAST_CRANK_WIDTH);
  const left = EDGE;
  const right = width - EDGE;
  const x1 = left + (right - left) * 0.335;
  const x2 = left + (right - left) * 0.665;
  const middle = (x1 + x2) / 2;
  const reach = Math.min(26, (x2 - x1) * 0.3);
  const relay: Box = { left: x1 - reach, right: x2 + reach, top: ROW.heavy - 24, bottom: ROW.coil + 50 };
  const battery: Box = { left: left - BODY_HALF, right: left + BODY_HALF, top: ROW.post - 22, bottom: ROW.minusPost + 22 };
  const starter: Box = { left: right - BODY_HALF, right: right + BODY_HALF, top: ROW.heavy + 20, bottom: ROW.heavy + 112 };
  const feedX = (battery.right + relay.left) / 2;
  const strapX = starter.right - 8;
  const pinion: Box = { left: right - 22, right: right + 2, top: starter.bottom + 14, bottom: starter.bottom + 44 };
  const engineRight = pinion.left - 2;
  const engineLeft = Math.max(relay.right + 4 > x2 + 18 ? x2 + 18 : relay.right + 4, engineRight - 96);
  const gear: Box = { left: engineLeft - 2, right: engineRight, top: starter.bottom + 20, bottom: starter.bottom + 36 };
  const engine: Box = { left: engineLeft + 4, right: strapX - 12, top: gear.bottom + 12, bottom: gear.bottom + 84 };
  const spot = (node: CrankNode, x: number, y: number): CrankSpot => ({ node, at: { x, y }, target: boxAround({ x, y }, TARGET, TARGET) });
  const hasFeedLock = interlocks === 'in-feed' || interlocks === 'both';
  const hasReturnLock = interlocks === 'in-return' || interlocks === 'both';

  const spots = [
    spot('battery+clamp', left, ROW.heavy), spot('battery+', left, ROW.post), spot('battery-', left, ROW.minusPost), spot('battery-clamp', left, ROW.minusClamp),
    spot('relay-battery-stud', x1, ROW.heavy), spot('relay-starter-stud', x2, ROW.heavy), spot('coil-feed', x1, ROW.coil), spot('coil-return', x2, ROW.coil),
    spot('starter-stud', right, ROW.heavy), spot('starter-case', right, starter.bottom - 26), spot('chassis', middle, ROW.bar),
  ];
  const coil = boxAround({ x: middle, y: ROW.coil }, (x2 - x1) * 0.44, 26);
  const lines: Readonly<Record<CrankPart, readonly string[]>> = {
    battery: [],
    posts: [`M${left} ${ROW.heavy} V${ROW.post}`, `M${left} ${ROW.minusPost} V${ROW.minusClamp}`],
    'battery-cable': [`M${left} ${ROW.heavy} H${x1}`],
    contacts: [`M${x1} ${ROW.heavy} H${middle - 15}`, `M${middle + 15} ${ROW.heavy} H${x2}`],
    'start-cable': [`M${x2} ${ROW.heavy} H${right}`],
    coil: [`M${x1} ${ROW.coil} H${coil.left}`, `M${coil.right} ${ROW.coil} H${x2}`],
    feed: [`M${feedX} ${ROW.heavy} V${ROW.feedFoot} H${x1} V${ROW.start + 13}`, ...splitAt(x1, ROW.start - 13, ROW.coil, hasFeedLock ? ROW.feedLock : undefined)],
    return: splitAt(x2, ROW.bar, ROW.coil, hasReturnLock ? ROW.returnLock : undefined),
    starter: [`M${right} ${ROW.heavy} V${starter.top}`],
    engine: [],
    ground: [`M${left} ${ROW.minusClamp} V${ROW.bar} H${strapX} V${starter.bottom}`],
  };
  const bodies: Partial<Record<CrankPart, Box>> = { battery, coil, starter, engine };
  const stateOf = (part: CrankPart): PartState => states.find((state) => state.part === part) ?? { part, share: 0, suspicion: 'hardly' };
  const label = (part: CrankPart | undefined, x: number, y: number, anchor: CrankLabel['anchor'], names: readonly string[]): CrankLabel =>
    placeLabel({ part, x, y, anchor, lines: part === undefined ? names : [...names, sayPart(stateOf(part))] });
  const { crank } = DRAWING_WORDS;
  const top = ROW.heavy - 34;
  return {
    width, height: HEIGHT, spots, relay, coil, battery, starter, gear, pinion, engine, feedFrom: { x: feedX, y: ROW.heavy },
    pieces: CRANK_PARTS.map((part) => ({ part, lines: lines[part], heavy: !['coil', 'feed', 'return'].includes(part), body: bodies[part], state: stateOf(part) })),
    contact: { from: { x: middle - 15, y: ROW.heavy }, to: { x: middle + 15, y: ROW.heavy }, closed: startSwitch },
    start: { at: { x: x1, y: ROW.start }, target: boxAround({ x: x1, y: ROW.start }, TARGET, TARGET), held: startSwitch },
    feedLock: hasFeedLock ? { x: x1, y: ROW.feedLock } : undefined, returnLock: hasReturnLock ? { x: x2, y: ROW.returnLock } : undefined,
    bar: { from: left - 24, to: strapX + 12, y: ROW.bar },
    labels: [
      label('battery-cable', (left + x1) / 2, top - LINE * 2, 'middle', crank.batteryCable),
      label('contacts', middle, top - LINE - 6, 'middle', crank.contacts),
      label('start-cable', (x2 + right) / 2, top - LINE * 2, 'middle', crank.startCable),
      label('battery', left, (battery.top + battery.bottom) / 2 - 3, 'middle', crank.battery),
      label('starter', right, starter.top + 19, 'middle', crank.starter),
      label('coil', middle, ROW.coil + 29, 'middle', crank.coil),
      label('engine', (engine.left + engine.right) / 2, (engine.top + engine.bottom) / 2 - 3, 'middle', crank.engine),
      label('posts', left + 18, ROW.minusClamp + 24, 'start', crank.posts),
      label('feed', x1 + 14, ROW.start + 33, 'start', crank.feed),
      label(undefined, x1 + 28, ROW.start - 2, 'start', startSwitch ? crank.startHeld : crank.startOff),
      label('return', x2 + 14, ROW.returnLock + 40, 'start', crank.return),
      label('ground', middle, ROW.bar + 38, 'middle', crank.ground),
      ...(hasFeedLock ? [label(undefined, x1 + 22, ROW.feedLock - 3, 'start', crank.interlock)] : []),
      ...(hasReturnLock ? [label(undefined, x2 + 22, ROW.returnLock - 3, 'start', crank.interlock)] : []),
    ],
  };
}

/** A standing line with a gap for a switch. */
function splitAt(x: number, from: number, to: number, gap: number | undefined): string[] {
  if (gap === undefined) return [`M${x} ${from} V${to}`];
  return from < to ? [`M${x} ${from} V${gap - 13}`, `M${x} ${gap + 13} V${to}`] : [`M${x} ${from} V${gap + 13}`, `M${x} ${gap - 13} V${to}`];
}

/** With the box that its words take: `y` is the foot of the first line. A part's name and state share a line where there is room. */
function placeLabel({ part, x, y, anchor, lines }: Omit<CrankLabel, 'box'>): CrankLabel {
  const wide = Math.max(...lines.map((line) => textWidth(line, 14, true)));
  const from = anchor === 'start' ? x : anchor === 'end' ? x - wide : x - wide / 2;
  return { part, x, y, anchor, lines, box: { left: from, right: from + wide, top: y - 12, bottom: y + (lines.length - 1) * LINE + 4 } };
}

export const CRANK_LINE = LINE;
