import { boundExcess, centreShift, measureExcess, type Pairing } from './centre-shift.ts';
import { turnSpot, type Spot } from './offset.ts';
import { Region } from './region.ts';

/** Which hole a bolt takes: spots of the part are in its own frame, already turned over where it is flipped. */
export interface Taken {
  readonly bolt: Spot;
  readonly hole: Spot;
  /** how far off centre the bolt may sit, mm */
  readonly room: number;
}

/** How the part lies: turn counter-clockwise in radians, then shift in mm; `excess` as in `centreShift`. */
export interface Pose {
  readonly turnRad: number;
  readonly x: number;
  readonly y: number;
  readonly excess: number;
}

/** An offset is a length on a bench: a millionth of a millimetre beyond the limit is on it. */
export const ON_THE_LIMIT_MM = 1e-6;

/** Excesses that differ by less are alike, mm. */
const TURN_GAP_MM = 1e-7;
/** A turn is refined to this, rad: a hundred-thousandth of a millimetre on 100 mm. */
const TURN_GAP_RAD = 1e-7;
const MOST_PIECES = 4_000;

/**
 * How to lay the part so that every bolt passes its hole, or `undefined` when there is no way.
 * No turn is taken where none is needed; else one that leaves the worst bolt the most room. Likewise the shift.
 */
export function solvePose(taken: readonly Taken[]): Pose | undefined {
  if (taken.some(({ room }) => room < -ON_THE_LIMIT_MM)) return undefined;
  const range = findTurnRange(taken);
  if (!range) return undefined;
  if (Math.abs(normaliseTurn(range.middle)) <= range.half + 1e-9) {
    const straight = poseAt(taken, 0);
    if (straight.excess <= ON_THE_LIMIT_MM) return withoutNeedlessShift(taken, straight);
  }
  if (taken.length < 2) return undefined;
  const best = taken.length === 2 && taken.every(isRound) ? alignTwo(taken) : findBestTurn(taken, range);
  return best.excess <= ON_THE_LIMIT_MM ? withoutNeedlessShift(taken, best) : undefined;
}

/** The best shift at one turn, with its excess; where two bolts already cannot both pass there, a shift of zero and a bound below the excess. */
export function poseAt(taken: readonly Taken[], turnRad: number, region = new Region(), hopeless?: number): Pose & { readonly bound: number } {
  const pairs = pairUp(taken, turnRad);
  const bound = boundExcess(pairs);
  return bound > ON_THE_LIMIT_MM ? { turnRad, x: 0, y: 0, excess: bound, bound } : { turnRad, ...centreShift(pairs, region, undefined, hopeless) };
}

/** Least |turn| any pose of these pairs can have, rad; undefined where the two farthest bolts can never both pass. */
export function boundTurn(taken: readonly Taken[]): number | undefined {
  const range = findTurnRange(taken);
  if (!range) return undefined;
  const { middle, half } = range;
  return Math.max(0, Math.abs(normaliseTurn(middle)) - half);
}

/** The turn in (-pi, pi]. */
export function normaliseTurn(turnRad: number): number {
  const turned = turnRad - 2 * Math.PI * Math.round(turnRad / (2 * Math.PI));
  return turned <= -Math.PI ? turned + 2 * Math.PI : turned;
}

function pairUp(taken: readonly Taken[], turnRad: number): Pairing[] {
  return taken.map(({ bolt, hole, room }) => ({ bolt, room, turned: turnSpot(hole, turnRad, false) }));
}

function withoutNeedlessShift(taken: readonly Taken[], pose: Pose): Pose {
  const excess = measureExcess(pairUp(taken, pose.turnRad), 0, 0);
  return excess <= ON_THE_LIMIT_MM ? { turnRad: pose.turnRad, x: 0, y: 0, excess } : pose;
}

/**
 * A pose in which all bolts pass, the one about it with most room for the worst; else one that shows there is none. Turns are halved until one is
 * found that does or none can be left: the excess cannot change faster than the farthest hole moves.
 */
function findBestTurn(taken: readonly Taken[], range: { middle: number; half: number }): Pose {
  const region = new Region();
  // The shift takes up a turn about any point: about the middle of the holes they move least.
  const arm = armOf(taken);
  let best = poseAt(taken, range.middle, region);
  let pieces = [{ ...range, bound: best.bound - arm * range.half }];
  let width = range.half;
  for (let count = 1; best.excess > ON_THE_LIMIT_MM && pieces.length > 0 && count < MOST_PIECES;) {
    const next: typeof pieces = [];
    for (const piece of pieces) {
      if (piece.bound > ON_THE_LIMIT_MM || best.excess <= ON_THE_LIMIT_MM) continue;
      const half = piece.half / 2;
      width = half;
      for (const middle of [piece.middle - half, piece.middle + half]) {
        count++;
        const pose = poseAt(taken, middle, region, ON_THE_LIMIT_MM + arm * half);
        if (isBetter(pose, best)) best = pose;
        next.push({ middle, half, bound: pose.bound - arm * half });
      }
    }
    pieces = next;
  }
  if (best.excess > ON_THE_LIMIT_MM) return best;
  const ideal = -Math.min(...taken.map(({ room }) => room));
  // Nothing can beat bolts that all sit on their centres.
  const refined = best.excess > ideal + TURN_GAP_MM ? refineTurn(taken, best, width, region) : best;
  const found = { ...refined, turnRad: normaliseTurn(refined.turnRad) };
  return taken.every(isRound) ? found : turnBack(taken, found, region);
}

/** Two bolts in round holes: best with the line from hole to hole along the line from bolt to bolt, the gap in length shared. */
function alignTwo([a, b]: readonly Taken[]): Pose {
  const turnRad = normaliseTurn(Math.atan2(b!.bolt.y - a!.bolt.y, b!.bolt.x - a!.bolt.x) - Math.atan2(b!.hole.y - a!.hole.y, b!.hole.x - a!.hole.x));
  return { turnRad, ...centreShift(pairUp([a!, b!], turnRad), new Region()) };
}

function isRound({ bolt, hole }: Taken): boolean {
  return bolt.halfX === 0 && bolt.halfY === 0 && hole.halfX === 0 && hole.halfY === 0;
}

/** Downhill from a turn at which all bolts pass, in steps that double; then by golden section in the last two. */
function refineTurn(taken: readonly Taken[], from: Pose, step: number, region: Region): Pose {
  let best = from;
  let low = from.turnRad - step;
  let high = from.turnRad + step;
  for (const sign of [1, -1]) {
    for (let far = step; far < 2 * Math.PI; far *= 2) {
      const pose = poseAt(taken, best.turnRad + sign * far, region);
      if (pose.excess >= best.excess) {
        if (sign > 0) high = pose.turnRad;
        else low = pose.turnRad;
        break;
      }
      if (sign > 0) low = best.turnRad;
      else high = best.turnRad;
      best = pose;
    }
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let left = poseAt(taken, high - golden * (high - low), region);
  let right = poseAt(taken, low + golden * (high - low), region);
  while (high - low > TURN_GAP_RAD) {
    const nearer = left.excess <= right.excess ? left : right;
    if (nearer.excess < best.excess) best = nearer;
    if (nearer === left) {
      high = right.turnRad;
      right = left;
      left = poseAt(taken, high - golden * (high - low), region);
    } else {
      low = left.turnRad;
      left = right;
      right = poseAt(taken, low + golden * (high - low), region);
    }
  }
  return best;
}

/** Slots let the part turn without leaving the centre lines: turns it back towards none as far as that costs no room. */
function turnBack(taken: readonly Taken[], pose: Pose, region: Region): Pose {
  const most = pose.excess + TURN_GAP_MM;
  let best = pose;
  let low = 0;
  let high = 1;
  for (let i = 0; i < 30; i++) {
    const share = (low + high) / 2;
    const tried = poseAt(taken, pose.turnRad * share, region, most);
    if (tried.excess <= most) {
      best = tried;
      high = share;
    } else low = share;
  }
  return best;
}

function isBetter(pose: Pose, best: Pose): boolean {
  if (pose.excess < best.excess - TURN_GAP_MM) return true;
  return pose.excess <= best.excess && Math.abs(normaliseTurn(pose.turnRad)) < Math.abs(normaliseTurn(best.turnRad));
}

function armOf(taken: readonly Taken[]): number {
  const x = taken.reduce((sum, { hole }) => sum + hole.x, 0) / taken.length;
  const y = taken.reduce((sum, { hole }) => sum + hole.y, 0) / taken.length;
  return Math.max(...taken.map(({ hole }) => Math.hypot(hole.x - x, hole.y - y) + Math.hypot(hole.halfX, hole.halfY)));
}

/**
 * Turns at which the two bolts farthest apart can both pass: from the directions that the line from hole to hole and the line
 * from bolt to bolt can take, and the angle that the room of both leaves.
 */
function findTurnRange(taken: readonly Taken[]): { middle: number; half: number } | undefined {
  const pair = findFarthest(taken);
  if (!pair) return { middle: 0, half: Math.PI };
  const [a, b] = pair;
  const holes = directionsBetween(a.hole, b.hole);
  const bolts = directionsBetween(a.bolt, b.bolt);
  if (!holes || !bolts) return { middle: 0, half: Math.PI };
  const room = Math.max(0, a.room) + Math.max(0, b.room) + ON_THE_LIMIT_MM;
  if (holes.least > bolts.greatest + room || bolts.least > holes.greatest + room) return undefined;
  const reach = room / Math.max(bolts.least, holes.least);
  if (reach >= 1) return { middle: 0, half: Math.PI };
  const half = holes.half + bolts.half + Math.asin(reach);
  return half >= Math.PI ? { middle: 0, half: Math.PI } : { middle: normaliseTurn(bolts.middle - holes.middle), half };
}

/** Directions from a point of one spot to a point of the other, and the lengths; undefined where the two can touch. */
function directionsBetween(a: Spot, b: Spot): { middle: number; half: number; least: number; greatest: number } | undefined {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const length = Math.hypot(dx, dy);
  const spread = Math.hypot(a.halfX, a.halfY) + Math.hypot(b.halfX, b.halfY);
  if (spread >= length) return undefined;
  return { middle: Math.atan2(dy, dx), half: Math.asin(spread / length), least: length - spread, greatest: length + spread };
}

function findFarthest(taken: readonly Taken[]): [Taken, Taken] | undefined {
  let farthest: [Taken, Taken] | undefined;
  let best = -1;
  for (const [i, a] of taken.entries()) {
    for (const b of taken.slice(i + 1)) {
      const length = Math.hypot(b.bolt.x - a.bolt.x, b.bolt.y - a.bolt.y);
      if (length > best) {
        best = length;
        farthest = [a, b];
      }
    }
  }
  return farthest;
}
