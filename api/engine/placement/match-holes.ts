import { measureSpan, type Spot } from './offset.ts';
import { boundTurn, ON_THE_LIMIT_MM, solvePose, type Pose, type Taken } from './solve-pose.ts';

/** A bolt of the machine, in the panel's hole it sits in now. */
export interface Bolt {
  readonly spot: Spot;
  readonly diameterMm: number;
  readonly panelHoleMm: number;
}
/** A hole of the part. */
export interface Hole {
  readonly spot: Spot;
  readonly diameterMm: number;
}

/** A way to lay the part: `holeOf[i]` is the hole of bolt `bolts[i]`. */
export interface Match {
  readonly pose: Pose;
  readonly holeOf: readonly number[];
}

/** Ways to share out the holes that are looked at before the search is cut off. */
const MOST_ASSIGNMENTS = 5_000;

/**
 * The pose in which each bolt passes a hole of its own: least |turn|, then least shift.
 * Holes are shared out by backtracking; a pair of bolts that two holes cannot both take, at whatever turn, prunes the branch.
 * @param bolts those that shall pass, mm; none is matched trivially
 * @param extraRoom added to each bolt's room, mm: negative to demand a margin, positive to grant one
 */
export function matchHoles(bolts: readonly Bolt[], holes: readonly Hole[], extraRoom: number): Match | undefined {
  if (bolts.length === 0) return { pose: { turnRad: 0, x: 0, y: 0, excess: Number.NEGATIVE_INFINITY }, holeOf: [] };
  if (bolts.length > holes.length) return undefined;
  const candidates = listAssignments(bolts, holes, extraRoom)
    .map((taken) => ({ ...taken, least: boundTurn(taken.taken) }))
    .filter((each): each is typeof each & { least: number } => each.least !== undefined)
    .toSorted((a, b) => a.least - b.least);
  let best: Match | undefined;
  for (const { taken, holeOf, least } of candidates) {
    if (best && least > Math.abs(best.pose.turnRad) + 1e-9) break;
    const pose = solvePose(taken);
    if (pose && (!best || comparePoses(pose, best.pose) < 0)) best = { pose, holeOf };
  }
  return best;
}

/** Least |turn| first, then least shift, then the positive turn. */
export function comparePoses(a: Pose, b: Pose): number {
  return roughly(Math.abs(a.turnRad) - Math.abs(b.turnRad), 1e-7)
    || roughly(Math.hypot(a.x, a.y) - Math.hypot(b.x, b.y), 1e-6)
    || roughly(b.turnRad - a.turnRad, 1e-7);
}

/** How far off centre the bolt may sit in the hole, mm: half of what the hole is wider. */
export function roomOf(bolt: Bolt, hole: Hole): number {
  return (hole.diameterMm - bolt.diameterMm) / 2;
}

function roughly(difference: number, tolerance: number): number {
  return Math.abs(difference) <= tolerance ? 0 : difference;
}

/** Every way to give each bolt a hole of its own in which all pairs keep their distance. */
export function listAssignments(
  bolts: readonly Bolt[], holes: readonly Hole[], extraRoom: number,
): { taken: Taken[]; holeOf: number[] }[] {
  const boltSpans = spansOf(bolts.map(({ spot }) => spot));
  const holeSpans = spansOf(holes.map(({ spot }) => spot));
  // With one bolt there is nothing its position could disagree with: no margin is asked of it.
  const extra = bolts.length === 1 ? 0 : extraRoom;
  const found: { taken: Taken[]; holeOf: number[] }[] = [];
  const holeOf: number[] = [];
  const taken: Taken[] = [];
  const place = (index: number): void => {
    const bolt = bolts[index];
    if (!bolt) {
      found.push({ taken: [...taken], holeOf: [...holeOf] });
      return;
    }
    for (const [h, hole] of holes.entries()) {
      if (found.length >= MOST_ASSIGNMENTS) return;
      const room = roomOf(bolt, hole) + extra;
      if (room < -ON_THE_LIMIT_MM || holeOf.includes(h)) continue;
      const keeps = taken.every((other, i) => {
        const between = boltSpans[i]![index]!;
        const offered = holeSpans[holeOf[i]!]![h]!;
        const slack = Math.max(0, room) + Math.max(0, other.room) + ON_THE_LIMIT_MM;
        return offered.least <= between.greatest + slack && between.least <= offered.greatest + slack;
      });
      if (!keeps) continue;
      holeOf.push(h);
      taken.push({ bolt: bolt.spot, hole: hole.spot, room });
      place(index + 1);
      holeOf.pop();
      taken.pop();
    }
  };
  place(0);
  return found;
}

function spansOf(spots: readonly Spot[]): { least: number; greatest: number }[][] {
  return spots.map((a) => spots.map((b) => measureSpan(a, b)));
}
