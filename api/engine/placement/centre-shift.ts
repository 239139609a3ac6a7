import { measureOffset, type Offset, type Spot } from './offset.ts';

/** A bolt and the turned hole it shall pass; `room` is how far off centre it may sit, mm (negative: it does not go through). */
export interface Pairing {
  readonly bolt: Spot;
  readonly turned: Spot;
  readonly room: number;
}

/** The best shift for a given turn: `excess` is the worst offset beyond its room, mm; at most 0 when every bolt passes. */
export interface CentredShift {
  readonly x: number;
  readonly y: number;
  readonly excess: number;
}

const HALVINGS = 40;

/**
 * The shift that leaves the worst bolt the most room: min over (x, y) of max over the pairs of (offset - room), all convex in the shift.
 * Two nested bisections on the sign of a subgradient; exact to about 1e-9 of the box. Cost: 1,600 offsets a pair at most.
 */
export function centreShift(pairs: readonly Pairing[]): CentredShift {
  const [only] = pairs;
  if (only && pairs.length === 1) return { x: only.bolt.x - only.turned.x, y: only.bolt.y - only.turned.y, excess: -only.room };
  if (pairs.length === 2 && pairs.every(isRound)) return centreTwo(pairs[0]!, pairs[1]!);
  const box = boundShifts(pairs);
  const scratch = { worst: noOffset(), spare: noOffset() };
  let low = box.lowX;
  let high = box.highX;
  let best = { x: 0, y: 0, excess: Number.POSITIVE_INFINITY };
  for (let i = 0; i < HALVINGS && high - low > 1e-10; i++) {
    const x = (low + high) / 2;
    const column = centreColumn(pairs, x, box.lowY, box.highY, scratch);
    if (column.excess < best.excess) best = { x, y: column.y, excess: column.excess };
    if (column.slopeX === 0) break;
    if (column.slopeX > 0) high = x;
    else low = x;
  }
  return best;
}

/** How two bolts share a gap between where each would have the part, so that the worse off is best off: how far the first gives way, mm. */
function shareGap(gapMm: number, roomA: number, roomB: number): number {
  return Math.max(0, Math.min(gapMm, (gapMm + roomA - roomB) / 2));
}

/** The worst offset beyond its room at one shift, mm. */
export function measureExcess(pairs: readonly Pairing[], x: number, y: number): number {
  const out = { distance: 0, alongX: 0, alongY: 0 };
  let worst = Number.NEGATIVE_INFINITY;
  for (const pair of pairs) worst = Math.max(worst, measureOffset(pair.bolt, pair.turned, x, y, out).distance - pair.room);
  return worst;
}

function isRound({ bolt, turned }: Pairing): boolean {
  return bolt.halfX === 0 && bolt.halfY === 0 && turned.halfX === 0 && turned.halfY === 0;
}

/** Two bolts in round holes: the best shift lies on the line between the two that centre one of them. */
function centreTwo(a: Pairing, b: Pairing): CentredShift {
  const ax = a.bolt.x - a.turned.x;
  const ay = a.bolt.y - a.turned.y;
  const bx = b.bolt.x - b.turned.x;
  const by = b.bolt.y - b.turned.y;
  const gap = Math.hypot(bx - ax, by - ay);
  const off = shareGap(gap, a.room, b.room);
  const share = gap === 0 ? 0 : off / gap;
  return { x: ax + share * (bx - ax), y: ay + share * (by - ay), excess: Math.max(off - a.room, gap - off - b.room) };
}

/**
 * No shift can do better than this, mm: two bolts whose shifts lie apart share the gap between them. Cheap, and at most the excess.
 */
export function boundExcess(pairs: readonly Pairing[]): number {
  let bound = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < pairs.length; i++) {
    const a = pairs[i]!;
    bound = Math.max(bound, -a.room);
    for (let j = i + 1; j < pairs.length; j++) {
      const b = pairs[j]!;
      const apart = Math.hypot(a.bolt.x - a.turned.x - b.bolt.x + b.turned.x, a.bolt.y - a.turned.y - b.bolt.y + b.turned.y);
      const travel = Math.hypot(a.bolt.halfX, a.bolt.halfY) + Math.hypot(a.turned.halfX, a.turned.halfY)
        + Math.hypot(b.bolt.halfX, b.bolt.halfY) + Math.hypot(b.turned.halfX, b.turned.halfY);
      bound = Math.max(bound, (apart - travel - a.room - b.room) / 2);
    }
  }
  return bound;
}

interface Scratch { worst: Offset; spare: Offset }

function noOffset(): Offset {
  return { distance: 0, alongX: 0, alongY: 0 };
}

function centreColumn(
  pairs: readonly Pairing[], x: number, lowY: number, highY: number, scratch: Scratch,
): { y: number; excess: number; slopeX: number } {
  let low = lowY;
  let high = highY;
  let belowX = 0;
  let belowY = 0;
  let aboveX = 0;
  let aboveY = 0;
  let best = { y: 0, excess: Number.POSITIVE_INFINITY };
  let bestSlope = 0;
  for (let i = 0; i < HALVINGS && high - low > 1e-10; i++) {
    const y = (low + high) / 2;
    const excess = findWorst(pairs, x, y, scratch);
    const { alongX, alongY } = scratch.worst;
    if (excess < best.excess) {
      best = { y, excess };
      bestSlope = alongX;
    }
    if (alongY === 0) return { ...best, slopeX: alongX };
    if (alongY > 0) {
      high = y;
      aboveX = alongX;
      aboveY = alongY;
    } else {
      low = y;
      belowX = alongX;
      belowY = alongY;
    }
  }
  if (belowY === 0 || aboveY === 0) return { ...best, slopeX: bestSlope };
  // At the bottom of the column two pairs pull opposite ways; their mix that is level in y gives the slope in x.
  const share = -belowY / (aboveY - belowY);
  return { ...best, slopeX: share * aboveX + (1 - share) * belowX };
}

/** The worst pair's excess; its offset is left in `scratch.worst`. */
function findWorst(pairs: readonly Pairing[], x: number, y: number, scratch: Scratch): number {
  let excess = Number.NEGATIVE_INFINITY;
  for (const pair of pairs) {
    const offset = measureOffset(pair.bolt, pair.turned, x, y, scratch.spare);
    if (offset.distance - pair.room > excess) {
      excess = offset.distance - pair.room;
      scratch.spare = scratch.worst;
      scratch.worst = offset;
    }
  }
  return excess;
}

/** A box that holds the best shift: the shifts that bring some hole over its bolt lie in it, and so does every mean of them. */
function boundShifts(pairs: readonly Pairing[]): { lowX: number; highX: number; lowY: number; highY: number } {
  let lowX = Number.POSITIVE_INFINITY;
  let highX = Number.NEGATIVE_INFINITY;
  let lowY = Number.POSITIVE_INFINITY;
  let highY = Number.NEGATIVE_INFINITY;
  for (const { bolt, turned } of pairs) {
    const spreadX = Math.abs(bolt.halfX) + Math.abs(turned.halfX) + 1e-6;
    const spreadY = Math.abs(bolt.halfY) + Math.abs(turned.halfY) + 1e-6;
    lowX = Math.min(lowX, bolt.x - turned.x - spreadX);
    highX = Math.max(highX, bolt.x - turned.x + spreadX);
    lowY = Math.min(lowY, bolt.y - turned.y - spreadY);
    highY = Math.max(highY, bolt.y - turned.y + spreadY);
  }
  return { lowX, highX, lowY, highY };
}
