import { measureOffset, type Offset, type Spot } from './offset.ts';
import type { Region } from './region.ts';

/** A bolt and the turned hole it shall pass; `room` is how far off centre it may sit, mm (negative: it does not go through). */
export interface Pairing {
  readonly bolt: Spot;
  readonly turned: Spot;
  readonly room: number;
}

/**
 * The best shift for a given turn: `excess` is the worst offset beyond its room, mm; at most 0 when every bolt passes. No shift has less than
 * `bound`.
 */
export interface CentredShift {
  readonly x: number;
  readonly y: number;
  readonly excess: number;
  readonly bound: number;
}

/** How near to the best a shift is when nothing finer is asked for, mm. */
const FINE_MM = 1e-9;
const MOST_CUTS = 120;

/**
 * The shift that leaves the worst bolt the most room: min over (x, y) of max over the pairs of (offset - room), all convex in the shift.
 * One bolt, and two in round holes, in closed form. Else by cutting planes: the middle of what is left of a box, the worst pair there, and away with
 * the side on which that pair is worse still; each cut takes a third of the area at least.
 * Source of the method: Levin 1965, Newman 1965, the method of the centre of gravity (from memory).
 * @param region scratch
 * @param within stop once the excess is known to this, mm
 * @param hopeless stop once no shift has an excess as small as this, mm
 */
export function centreShift(pairs: readonly Pairing[], region: Region, within = FINE_MM, hopeless = Number.POSITIVE_INFINITY): CentredShift {
  const [only] = pairs;
  if (only && pairs.length === 1) {
    return { x: only.bolt.x - only.turned.x, y: only.bolt.y - only.turned.y, excess: -only.room, bound: -only.room };
  }
  if (pairs.length === 2 && pairs.every(isRound)) return centreTwo(pairs[0]!, pairs[1]!);
  const { lowX, highX, lowY, highY } = boundShifts(pairs);
  region.begin(lowX, highX, lowY, highY);
  const worst = { excess: 0, alongX: 0, alongY: 0 };
  const offset = { distance: 0, alongX: 0, alongY: 0 };
  let bestX = 0;
  let bestY = 0;
  let best = Number.POSITIVE_INFINITY;
  let bound = Number.NEGATIVE_INFINITY;
  for (let cuts = 0; cuts < MOST_CUTS && best - bound > within && bound <= hopeless && region.findMiddle(); cuts++) {
    const x = region.middleX;
    const y = region.middleY;
    findWorst(pairs, x, y, worst, offset);
    if (worst.excess < best) {
      best = worst.excess;
      bestX = x;
      bestY = y;
    }
    // On its centre line the worst pair is as well off as it ever is.
    if (worst.alongX === 0 && worst.alongY === 0) {
      bound = best;
      break;
    }
    bound = Math.max(bound, worst.excess + region.leastAlong(worst.alongX, worst.alongY) - (worst.alongX * x + worst.alongY * y));
    region.cut(worst.alongX, worst.alongY, worst.alongX * x + worst.alongY * y - (worst.excess - best));
  }
  return { x: bestX, y: bestY, excess: best, bound };
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
  const excess = Math.max(off - a.room, gap - off - b.room);
  return { x: ax + share * (bx - ax), y: ay + share * (by - ay), excess, bound: excess };
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

/** The worst pair's excess and which way it grows; `offset` is scratch. */
function findWorst(pairs: readonly Pairing[], x: number, y: number, worst: { excess: number; alongX: number; alongY: number }, offset: Offset): void {
  worst.excess = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < pairs.length; i++) {
    const { bolt, turned, room } = pairs[i]!;
    measureOffset(bolt, turned, x, y, offset);
    if (offset.distance - room <= worst.excess) continue;
    worst.excess = offset.distance - room;
    worst.alongX = offset.alongX;
    worst.alongY = offset.alongY;
  }
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
