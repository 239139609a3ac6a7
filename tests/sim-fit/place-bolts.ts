import type { Mounting, MountingHole } from '../../catalog-schema/index.ts';
import type { TrueBolt } from './truth.ts';

// Does a bracket go on bolts whose places are truly known? By geometry alone: two bolts by the lengths their holes can span, three and more
// by trying every turn in small steps and clipping the shifts that each hole allows against one another.

export interface BoltPattern { readonly bolts: readonly TrueBolt[]; readonly boltMm: number; readonly panelHoleMm: number; readonly panelDrillable: boolean }
export interface Goes { readonly flipped: boolean; readonly newHoles: number }

const TURN_STEP_DEG = 0.02;
const SIDES = 48;
const NEW_HOLE_SPACING = 1.5;
/** of the new hole over its bolt: about the medium row of ISO 273 */
const NEW_HOLE_SHARE = 1.1;

interface Slot { readonly x: number; readonly y: number; readonly dx: number; readonly dy: number; readonly room: number; readonly diameterMm: number }
type Point = readonly [number, number];

/** The least work with which it goes on: as it is, turned over, or with the fewest new holes; undefined where there is no way. */
export function placeBracket(machine: BoltPattern, part: Mounting): Goes | undefined {
  const sides = [false, true].map((flipped) => part.holes.map((hole) => slotOf(hole, flipped, machine.boltMm)));
  for (const [i, slots] of sides.entries()) if (findPose(machine.bolts, slots) !== undefined) return { flipped: i === 1, newHoles: 0 };
  if (part.drillable !== true && !machine.panelDrillable) return undefined;
  for (let newHoles = 1; newHoles <= machine.bolts.length; newHoles++) {
    for (const [i, slots] of sides.entries()) if (canDrill(machine, part, slots, newHoles)) return { flipped: i === 1, newHoles };
  }
  return undefined;
}

/** Whether it goes on as it is, on this side of the panel. */
export function passesAsIs(machine: BoltPattern, part: Mounting, flipped: boolean): boolean {
  return findPose(machine.bolts, part.holes.map((hole) => slotOf(hole, flipped, machine.boltMm))) !== undefined;
}

function slotOf({ xMm, yMm, diameterMm, slotMm = 0, slotAngleDeg = 0 }: MountingHole, flipped: boolean, boltMm: number): Slot {
  const sign = flipped ? -1 : 1;
  const angle = slotAngleDeg * Math.PI / 180;
  return { x: sign * xMm, y: yMm, dx: sign * Math.cos(angle) * slotMm / 2, dy: Math.sin(angle) * slotMm / 2, room: (diameterMm - boltMm) / 2, diameterMm };
}

interface Pose { readonly turn: number; readonly x: number; readonly y: number; readonly holes: readonly number[] }

/** A turn and shift that brings each bolt through a slot of its own. */
function findPose(bolts: readonly TrueBolt[], slots: readonly Slot[]): Pose | undefined {
  let found: Pose | undefined;
  shareOut(bolts.length, slots, (holes) => {
    found = poseFor(bolts, holes.map((i) => slots[i]!), holes);
    return found !== undefined;
  });
  return found;
}

/** Calls back for each way to give every bolt a hole of its own, until told to stop. */
function shareOut(count: number, slots: readonly Slot[], take: (holes: readonly number[]) => boolean): boolean {
  const holes: number[] = [];
  const next = (): boolean => {
    if (holes.length === count) return take([...holes]);
    for (const [i, { room }] of slots.entries()) {
      if (room < -1e-9 || holes.includes(i)) continue;
      holes.push(i);
      if (next()) return true;
      holes.pop();
    }
    return false;
  };
  return next();
}

function poseFor(bolts: readonly TrueBolt[], slots: readonly Slot[], holes: readonly number[]): Pose | undefined {
  if (bolts.length === 0) return { turn: 0, x: 0, y: 0, holes };
  if (bolts.length === 1) return { turn: 0, x: bolts[0]!.x - slots[0]!.x, y: bolts[0]!.y - slots[0]!.y, holes };
  for (let i = 0; i < bolts.length; i++) {
    for (let j = i + 1; j < bolts.length; j++) {
      const span = Math.hypot(bolts[i]!.x - bolts[j]!.x, bolts[i]!.y - bolts[j]!.y);
      const { least, most } = spanOf(slots[i]!, slots[j]!);
      if (span < least - 1e-9 || span > most + 1e-9) return undefined;
    }
  }
  // The lengths that two bodies can span, turned freely, are all those between the least and the greatest: for two bolts that is the answer.
  if (bolts.length === 2) return { turn: turnOf(bolts, slots), x: 0, y: 0, holes };
  const middle = turnOf(bolts, slots);
  const reach = Math.min(Math.PI, 2 * (slots[0]!.room + slots[1]!.room + Math.hypot(slots[0]!.dx, slots[0]!.dy) + Math.hypot(slots[1]!.dx, slots[1]!.dy)) / Math.hypot(bolts[0]!.x - bolts[1]!.x, bolts[0]!.y - bolts[1]!.y) + 0.001);
  const step = TURN_STEP_DEG * Math.PI / 180;
  for (let off = 0; off <= reach; off += step) {
    for (const turn of off === 0 ? [middle] : [middle - off, middle + off]) {
      const shift = shiftAt(bolts, slots, turn);
      if (shift) return { turn, x: shift[0], y: shift[1], holes };
    }
  }
  return undefined;
}

function turnOf(bolts: readonly TrueBolt[], slots: readonly Slot[]): number {
  return Math.atan2(bolts[1]!.y - bolts[0]!.y, bolts[1]!.x - bolts[0]!.x) - Math.atan2(slots[1]!.y - slots[0]!.y, slots[1]!.x - slots[0]!.x);
}

/** A shift that all slots allow at this turn: their allowed shifts are stadiums about bolt minus turned slot. */
function shiftAt(bolts: readonly TrueBolt[], slots: readonly Slot[], turn: number): Point | undefined {
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  let region: Point[] | undefined;
  for (const [i, { x, y, dx, dy, room }] of slots.entries()) {
    const centre: Point = [bolts[i]!.x - (cos * x - sin * y), bolts[i]!.y - (sin * x + cos * y)];
    const stadium = outline(centre, cos * dx - sin * dy, sin * dx + cos * dy, room);
    region = region === undefined ? stadium : clip(region, stadium);
    if (region.length === 0) return undefined;
  }
  return region && [region.reduce((sum, [x]) => sum + x, 0) / region.length, region.reduce((sum, [, y]) => sum + y, 0) / region.length];
}

/** The corners, counter-clockwise, of a stadium: points within `room` of the segment centre -+ (dx, dy). */
function outline([cx, cy]: Point, dx: number, dy: number, room: number): Point[] {
  const along = Math.atan2(dy, dx);
  return Array.from({ length: SIDES }, (_, k): Point => {
    const angle = along - Math.PI / 2 + 2 * Math.PI * k / SIDES;
    const side = k <= SIDES / 2 ? 1 : -1;
    return [cx + side * dx + room * Math.cos(angle), cy + side * dy + room * Math.sin(angle)];
  });
}

/** Sutherland and Hodgman: the part of a polygon inside a convex one, both counter-clockwise. */
function clip(subject: Point[], by: readonly Point[]): Point[] {
  let kept = subject;
  for (let i = 0; i < by.length && kept.length > 0; i++) {
    const [ax, ay] = by[i]!;
    const [bx, by_] = by[(i + 1) % by.length]!;
    const side = ([x, y]: Point): number => (bx - ax) * (y - ay) - (by_ - ay) * (x - ax);
    const next: Point[] = [];
    for (const [k, p] of kept.entries()) {
      const q = kept[(k + 1) % kept.length]!;
      const [sp, sq] = [side(p), side(q)];
      if (sp >= 0) next.push(p);
      if ((sp > 0 && sq < 0) || (sp < 0 && sq > 0)) next.push([p[0] + (q[0] - p[0]) * sp / (sp - sq), p[1] + (q[1] - p[1]) * sp / (sp - sq)]);
    }
    kept = next;
  }
  return kept;
}

function spanOf(a: Slot, b: Slot): { least: number; most: number } {
  let most = 0;
  for (const s of [-1, 1]) for (const t of [-1, 1]) most = Math.max(most, Math.hypot(a.x + s * a.dx - b.x - t * b.dx, a.y + s * a.dy - b.y - t * b.dy));
  let least = Number.POSITIVE_INFINITY;
  for (const s of [-1, 1]) {
    least = Math.min(least, toSegment(a.x + s * a.dx, a.y + s * a.dy, b), toSegment(b.x + s * b.dx, b.y + s * b.dy, a));
  }
  return { least: Math.max(0, least - a.room - b.room), most: most + a.room + b.room };
}

function toSegment(x: number, y: number, slot: { x: number; y: number; dx: number; dy: number }): number {
  const square = slot.dx ** 2 + slot.dy ** 2;
  const t = square === 0 ? 0 : Math.max(-1, Math.min(1, ((x - slot.x) * slot.dx + (y - slot.y) * slot.dy) / square));
  return Math.hypot(x - slot.x - t * slot.dx, y - slot.y - t * slot.dy);
}

/** Whether so many new holes do, in bracket or panel, each 1.5 diameters clear of every other of its sheet. */
function canDrill(machine: BoltPattern, part: Mounting, slots: readonly Slot[], newHoles: number): boolean {
  const { bolts } = machine;
  for (const kept of subsets(bolts.length, bolts.length - newHoles)) {
    const keeping = kept.map((i) => bolts[i]!);
    const moved = bolts.filter((_, i) => !kept.includes(i));
    const stopped = shareOut(kept.length, slots, (holes) => listPoses(bolts, keeping, holes.map((i) => slots[i]!), slots)
      .some((pose) => holesKeepClear(machine, part, slots, moved, slots.filter((_, i) => !holes.includes(i)), pose)));
    if (stopped) return true;
  }
  return false;
}

/** Ways to lie: held by two bolts or more as they hold it; about one bolt at any turn; about the middle of the bolts where none holds it. */
function listPoses(bolts: readonly TrueBolt[], keeping: readonly TrueBolt[], taken: readonly Slot[], slots: readonly Slot[]): Omit<Pose, 'holes'>[] {
  if (keeping.length >= 2) {
    const pose = poseFor(keeping, taken, []);
    return pose ? [keeping.length === 2 ? shiftToMiddle(keeping, taken, pose.turn) : pose] : [];
  }
  const turns = Array.from({ length: 72 }, (_, i) => (i % 2 === 0 ? 1 : -1) * Math.ceil(i / 2) * Math.PI / 36);
  const mean = (points: readonly { x: number; y: number }[]) => ({ x: points.reduce((sum, { x }) => sum + x, 0) / Math.max(1, points.length), y: points.reduce((sum, { y }) => sum + y, 0) / Math.max(1, points.length) });
  const [to, from] = keeping.length === 1 ? [keeping[0]!, taken[0]!] : [mean(bolts), mean(slots)];
  const offs = keeping.length === 1 ? [[0, 0]] as const : [[0, 0], [6, 0], [-6, 0], [0, 6], [0, -6], [12, 0], [0, 12], [20, 0], [0, 20], [-20, 0], [0, -20]] as const;
  return turns.flatMap((turn) => offs.map(([ox, oy]) => ({
    turn, x: to.x + ox - (Math.cos(turn) * from.x - Math.sin(turn) * from.y), y: to.y + oy - (Math.sin(turn) * from.x + Math.cos(turn) * from.y),
  })));
}

function shiftToMiddle(bolts: readonly TrueBolt[], slots: readonly Slot[], turn: number): Omit<Pose, 'holes'> {
  const [bx, by] = [(bolts[0]!.x + bolts[1]!.x) / 2, (bolts[0]!.y + bolts[1]!.y) / 2];
  const [sx, sy] = [(slots[0]!.x + slots[1]!.x) / 2, (slots[0]!.y + slots[1]!.y) / 2];
  return { turn, x: bx - (Math.cos(turn) * sx - Math.sin(turn) * sy), y: by - (Math.sin(turn) * sx + Math.cos(turn) * sy) };
}

function holesKeepClear(machine: BoltPattern, part: Mounting, slots: readonly Slot[], moved: readonly TrueBolt[], free: readonly Slot[], { turn, x, y }: Omit<Pose, 'holes'>): boolean {
  const drilled = NEW_HOLE_SHARE * machine.boltMm;
  const lay = (slot: Slot) => ({
    x: x + Math.cos(turn) * slot.x - Math.sin(turn) * slot.y, y: y + Math.sin(turn) * slot.x + Math.cos(turn) * slot.y,
    dx: Math.cos(turn) * slot.dx - Math.sin(turn) * slot.dy, dy: Math.sin(turn) * slot.dx + Math.cos(turn) * slot.dy, diameterMm: slot.diameterMm,
  });
  const isClear = (places: readonly { x: number; y: number }[], there: readonly { x: number; y: number; dx: number; dy: number; diameterMm: number }[]): boolean =>
    places.every((hole, i) => there.every((other) => toSegment(hole.x, hole.y, other) >= NEW_HOLE_SPACING * Math.max(drilled, other.diameterMm))
      && places.slice(i + 1).every((other) => Math.hypot(hole.x - other.x, hole.y - other.y) >= NEW_HOLE_SPACING * drilled));
  const laid = slots.map(lay);
  if (part.drillable === true && isClear(moved, laid)) return true;
  if (!machine.panelDrillable || free.length < moved.length) return false;
  const inPanel = machine.bolts.map((bolt) => ({ ...bolt, dx: 0, dy: 0, diameterMm: machine.panelHoleMm }));
  return subsets(free.length, moved.length).some((chosen) => chosen.every((i) => free[i]!.room >= 0) && isClear(chosen.map((i) => lay(free[i]!)), inPanel));
}

function subsets(count: number, size: number): number[][] {
  if (size === 0) return [[]];
  return Array.from({ length: count }, (_, i) => i).flatMap((i) => subsets(i, size - 1).map((rest) => [...rest, i]));
}
