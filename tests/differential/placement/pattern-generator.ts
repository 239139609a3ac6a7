import type { MachineMounting, Mounting, MountingHole } from '../../../catalog-schema/index.ts';
import { createRandom } from '../rewire/case-generator.ts';

// Seeded hole patterns: a machine with 1 to 4 bolts and a part that was made for it turned, turned over, shifted and loose, or made for nearly it, or
// for something else. Slots on both, spare holes, one hole too few, drillable sheets.

export interface PatternCase { readonly seed: number; readonly kind: string; readonly machine: MachineMounting & { boltMm: number }; readonly part: Mounting }

interface Point { x: number; y: number }

export function generatePattern(seed: number): PatternCase {
  const random = createRandom(seed ^ 0x2545f491);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const boltMm = pick([5, 6, 8]);
  const count = pick([1, 2, 2, 2, 3, 3, 4, 4]);
  const at = layBolts(count, between, pick);
  const machineHoles = at.map((point): MountingHole => ({
    xMm: round(point.x), yMm: round(point.y), diameterMm: round(boltMm + between(0.4, 1.2)),
    ...(random() < 0.07 ? { slotMm: round(between(2, 6)), slotAngleDeg: pick([0, 45, 90]) } : {}),
  }));

  const kind = pick(['made for it', 'made for it', 'nearly', 'nearly', 'other']);
  const turn = (pick([0, 0, 90, -90, 180, between(-180, 180)]) * Math.PI) / 180;
  const shift = { x: between(-15, 15), y: between(-15, 15) };
  const isFlipped = random() < 0.3;
  // The part's frame: the machine's bolts, shifted back, turned back, turned over.
  const toPart = (point: Point): Point => {
    const moved = { x: point.x - shift.x, y: point.y - shift.y };
    const x = Math.cos(turn) * moved.x + Math.sin(turn) * moved.y;
    return { x: isFlipped ? -x : x, y: -Math.sin(turn) * moved.x + Math.cos(turn) * moved.y };
  };
  const source = kind === 'other' ? layBolts(count, between, pick) : at;
  const holes = source.map((point, index): MountingHole => {
    const room = between(0.35, 1.6);
    const astray = kind === 'nearly' && index === 0 ? between(0.5, 7) : between(0, Math.max(0, room - 0.3));
    const way = between(0, 2 * Math.PI);
    const { x, y } = toPart({ x: point.x + astray * Math.cos(way), y: point.y + astray * Math.sin(way) });
    const isSlotted = random() < 0.25;
    return {
      xMm: round(x), yMm: round(y), diameterMm: round(boltMm + 2 * room),
      ...(isSlotted ? { slotMm: round(between(2, 12)), slotAngleDeg: pick([0, 90, 30, round(between(0, 180))]) } : {}),
    };
  });
  const spare = pick([0, 0, 0, 1, 2]);
  for (let index = 0; index < spare; index++) holes.push({ xMm: round(between(-40, 40)), yMm: round(between(-40, 40)), diameterMm: round(boltMm + between(-1, 3)) });
  if (count > 1 && random() < 0.12) holes.shift();
  const drillable = pick(['none', 'none', 'panel', 'bracket', 'both']);
  return {
    seed, kind,
    machine: { holes: machineHoles, boltMm, ...(drillable === 'panel' || drillable === 'both' ? { drillable: true } : {}) },
    part: {
      holes: holes.map((hole) => ({ hole, key: random() })).sort((a, b) => a.key - b.key).map(({ hole }) => hole),
      ...(drillable === 'bracket' || drillable === 'both' ? { drillable: true } : {}),
    },
  };
}

/** Bolts of a bracket: a pair, a triangle, a rectangle, or anyhow; at least 15 mm apart. */
function layBolts(count: number, between: (low: number, high: number) => number, pick: <T>(list: readonly T[]) => T): Point[] {
  const width = between(25, 70);
  const height = pick([between(20, 60), width]);
  if (pick([true, true, false])) {
    const corners = [{ x: 0, y: 0 }, { x: width, y: 0 }, { x: pick([0, width / 2]), y: height }, { x: width, y: height }];
    return count === 3 ? corners.slice(0, 3) : count === 4 ? [corners[0]!, corners[1]!, { x: 0, y: height }, corners[3]!] : corners.slice(0, count);
  }
  const points: Point[] = [];
  while (points.length < count) {
    const point = { x: between(-35, 35), y: between(-35, 35) };
    if (points.every((other) => Math.hypot(other.x - point.x, other.y - point.y) > 15)) points.push(point);
  }
  return points;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
