import type { MachineMounting, Mounting, MountingHole } from '../../../catalog-schema/index.ts';

// Placement by trying: every turn on a fine grid, every shift on a fine grid, every way to give bolts holes. Straight from the contract's sentences,
// slow, and it imports nothing of the engine. A margin is how much room is left at the worst place, mm: below zero it does not go.

export interface GridAnswer {
  /** best margin over all poses in which each bolt passes a hole of its own, as the part lies and turned over */
  readonly asItLies: GridBest;
  readonly turnedOver: GridBest;
  /** for 1, 2, ... new holes: best margin in which that many do, one or more bolts passing as they are */
  readonly drilled: readonly number[];
}

export interface GridBest {
  readonly margin: number;
  /** least |turn| at which the margin is clear, degrees */
  readonly leastTurnDeg: number;
}

interface Point { x: number; y: number }
/** Two ends of a slot's centre line (equal when round) and its width. */
interface Hole { a: Point; b: Point; diameterMm: number }

const TURN_STEP_DEG = 0.1;
const SHIFT_STEP_MM = 0.05;
const DRILL_TURN_STEP_DEG = 0.5;
const DRILL_SHIFT_STEP_MM = 0.2;
const SPACING = 1.5;
/** Clear of the grid's own coarseness: half a step of turn on 50 mm, half a step of shift. */
export const CLEAR_MM = 0.12;
export const CLEAR_DRILLED_MM = 0.5;
/** ISO 273, medium series (from memory). */
const NEW_HOLE_MM: Readonly<Record<number, number>> = { 5: 5.5, 6: 6.6, 8: 9 };

export function searchGrid(machine: MachineMounting & { boltMm: number }, part: Mounting): GridAnswer {
  const bolts = machine.holes.map(readHole);
  const flat = part.holes.map(readHole);
  const turned = flat.map(({ a, b, diameterMm }): Hole => ({ a: { x: -a.x, y: a.y }, b: { x: -b.x, y: b.y }, diameterMm }));
  const sides = [flat, turned];
  const [asItLies, turnedOver] = sides.map((holes) => searchPoses(bolts, holes, machine.boltMm)) as [GridBest, GridBest];
  const drilled: number[] = [];
  if (Math.max(asItLies.margin, turnedOver.margin) < CLEAR_MM && (machine.drillable === true || part.drillable === true)) {
    for (let missing = 1; missing < bolts.length; missing++) {
      drilled.push(Math.max(...sides.map((holes) => searchDrilled(machine, part, bolts, holes, missing))));
      if (drilled.at(-1)! >= CLEAR_DRILLED_MM) break;
    }
  }
  return { asItLies, turnedOver, drilled };
}

function searchPoses(bolts: readonly Hole[], holes: readonly Hole[], boltMm: number): GridBest {
  let margin = -Infinity;
  let leastTurnDeg = Infinity;
  forEachAssignment(bolts, holes, boltMm, (taken) => {
    // From no turn outwards, so that the first clear one is the least; a turn does nothing for a bolt alone.
    for (let step = 0; step <= (bolts.length === 1 ? 0 : 180 / TURN_STEP_DEG) && step * TURN_STEP_DEG < leastTurnDeg; step++) {
      for (const turnDeg of step === 0 ? [0] : [step * TURN_STEP_DEG, -step * TURN_STEP_DEG]) {
        const laid = taken.map((hole) => turnHole(hole, turnDeg));
        const best = searchShifts(bolts, laid, boltMm, SHIFT_STEP_MM, CLEAR_MM, () => Infinity);
        margin = Math.max(margin, best);
        if (best >= CLEAR_MM) leastTurnDeg = Math.min(leastTurnDeg, Math.abs(turnDeg));
      }
    }
  });
  return { margin, leastTurnDeg };
}

/** Best margin with `missing` bolts in new holes: of the bolts that pass, and of every new hole's distance to its neighbours. */
function searchDrilled(machine: MachineMounting & { boltMm: number }, part: Mounting, bolts: readonly Hole[], holes: readonly Hole[], missing: number): number {
  const newMm = NEW_HOLE_MM[machine.boltMm]!;
  let best = -Infinity;
  for (const kept of subsets(bolts.length, bolts.length - missing)) {
    const keeping = kept.map((index) => bolts[index]!);
    const moved = bolts.filter((_, index) => !kept.includes(index));
    forEachAssignment(keeping, holes, machine.boltMm, (taken) => {
      const free = holes.filter((hole) => !taken.includes(hole));
      for (let turnDeg = -180; turnDeg < 180 && best < CLEAR_DRILLED_MM; turnDeg += DRILL_TURN_STEP_DEG) {
        const laidFree = free.map((hole) => turnHole(hole, turnDeg));
        const laidTaken = taken.map((hole) => turnHole(hole, turnDeg));
        best = Math.max(best, searchShifts(keeping, laidTaken, machine.boltMm, DRILL_SHIFT_STEP_MM, CLEAR_DRILLED_MM, (shift) => {
          const place = (hole: Hole): Hole => ({ ...hole, a: add(hole.a, shift), b: add(hole.b, shift) });
          return judgeNewHoles(machine, part, bolts, moved, laidTaken.map(place), laidFree.map(place), newMm);
        }));
      }
    });
  }
  return best;
}

/** The best of all ways to share the moved bolts between bracket and panel. */
function judgeNewHoles(
  machine: MachineMounting & { boltMm: number }, part: Mounting, bolts: readonly Hole[], moved: readonly Hole[], taken: readonly Hole[],
  free: readonly Hole[], newMm: number,
): number {
  let best = -Infinity;
  for (let inPanel = part.drillable === true ? 0 : moved.length; inPanel <= (machine.drillable === true ? moved.length : 0); inPanel++) {
    for (const panelBolts of subsets(moved.length, inPanel)) {
      const inBracket = moved.filter((_, index) => !panelBolts.includes(index)).map((bolt) => round(middleOf(bolt), newMm));
      const bracket = spare(inBracket, [...taken, ...free]);
      if (bracket <= best) continue;
      for (const under of subsets(free.length, inPanel)) {
        const over = under.map((index) => free[index]!);
        if (over.some((hole) => hole.diameterMm < machine.boltMm)) continue;
        best = Math.max(best, Math.min(bracket, spare(over.map((hole) => round(middleOf(hole), newMm)), bolts)));
      }
    }
  }
  return best;
}

/** By how much the nearest pair of a new hole and any other of its sheet keeps more than its distance. */
function spare(added: readonly Hole[], there: readonly Hole[]): number {
  let least = Infinity;
  added.forEach((hole, index) => {
    for (const other of [...there, ...added.slice(index + 1)]) {
      least = Math.min(least, distanceToLine(hole.a, other.a, other.b) - SPACING * Math.max(hole.diameterMm, other.diameterMm));
    }
  });
  return least;
}

/**
 * The best margin over the shifts near which the first bolt passes its hole, or the first that is `enough`; `extra` is a further margin at a shift.
 */
function searchShifts(bolts: readonly Hole[], laid: readonly Hole[], boltMm: number, stepMm: number, enough: number, extra: (shift: Point) => number): number {
  if (!mayAllPass(bolts, laid, boltMm)) return -Infinity;
  const [bolt] = bolts;
  const [hole] = laid;
  const room = (hole!.diameterMm - boltMm) / 2 + CLEAR_MM;
  const xs = [bolt!.a.x - hole!.a.x, bolt!.a.x - hole!.b.x, bolt!.b.x - hole!.a.x, bolt!.b.x - hole!.b.x];
  const ys = [bolt!.a.y - hole!.a.y, bolt!.a.y - hole!.b.y, bolt!.b.y - hole!.a.y, bolt!.b.y - hole!.b.y];
  const [lowX, highX, lowY, highY] = [Math.min(...xs) - room, Math.max(...xs) + room, Math.min(...ys) - room, Math.max(...ys) + room];
  let best = -Infinity;
  for (let x = lowX; x <= highX + 1e-9; x += stepMm) {
    for (let y = lowY; y <= highY + 1e-9; y += stepMm) {
      const least = Math.max(best, -CLEAR_MM);
      let margin = Infinity;
      for (let i = 0; i < bolts.length && margin > least; i++) margin = Math.min(margin, (laid[i]!.diameterMm - boltMm) / 2 - distanceOfLines(bolts[i]!, laid[i]!, x, y));
      if (margin > least) {
        best = Math.max(best, Math.min(margin, extra({ x, y })));
        if (best >= enough) return best;
      } else y += Math.max(0, Math.floor((least - margin) / stepMm) - 1) * stepMm;   // no margin grows faster than the shift
    }
  }
  return best;
}

/** Can every pair of bolts pass its pair of holes at this turn, were each pair alone? A quick no; the middles' difference tells. */
function mayAllPass(bolts: readonly Hole[], laid: readonly Hole[], boltMm: number): boolean {
  for (let i = 0; i < bolts.length; i++) {
    for (let j = i + 1; j < bolts.length; j++) {
      const between = subtract(middleOf(bolts[j]!), middleOf(bolts[i]!));
      const offered = subtract(middleOf(laid[j]!), middleOf(laid[i]!));
      const give = [bolts[i]!, bolts[j]!, laid[i]!, laid[j]!].reduce((sum, { a, b }) => sum + Math.hypot(b.x - a.x, b.y - a.y) / 2, 0)
        + (laid[i]!.diameterMm + laid[j]!.diameterMm) / 2 - boltMm + 4 * CLEAR_MM;
      if (Math.hypot(between.x - offered.x, between.y - offered.y) > give) return false;
    }
  }
  return true;
}

function forEachAssignment(bolts: readonly Hole[], holes: readonly Hole[], boltMm: number, visit: (taken: Hole[]) => void): void {
  const taken: Hole[] = [];
  const place = (): void => {
    if (taken.length === bolts.length) {
      visit([...taken]);
      return;
    }
    for (const hole of holes) {
      if (taken.includes(hole) || hole.diameterMm - boltMm < -2 * CLEAR_MM) continue;
      taken.push(hole);
      place();
      taken.pop();
    }
  };
  place();
}

function readHole(hole: MountingHole): Hole {
  const half = (hole.slotMm ?? 0) / 2;
  const angle = ((hole.slotAngleDeg ?? 0) * Math.PI) / 180;
  const along = { x: half * Math.cos(angle), y: half * Math.sin(angle) };
  return { a: { x: hole.xMm - along.x, y: hole.yMm - along.y }, b: { x: hole.xMm + along.x, y: hole.yMm + along.y }, diameterMm: hole.diameterMm };
}

function turnHole(hole: Hole, turnDeg: number): Hole {
  return { ...hole, a: turnPoint(hole.a, turnDeg), b: turnPoint(hole.b, turnDeg) };
}

function turnPoint({ x, y }: Point, turnDeg: number): Point {
  const turn = (turnDeg * Math.PI) / 180;
  return { x: Math.cos(turn) * x - Math.sin(turn) * y, y: Math.sin(turn) * x + Math.cos(turn) * y };
}

/** Least distance between the line of a machine's bolt and the line of a hole shifted by (x, y). */
function distanceOfLines(bolt: Hole, hole: Hole, x: number, y: number): number {
  const a = { x: hole.a.x + x, y: hole.a.y + y };
  const isBoltRound = bolt.a.x === bolt.b.x && bolt.a.y === bolt.b.y;
  const b = { x: hole.b.x + x, y: hole.b.y + y };
  if (isBoltRound) return distanceToLine(bolt.a, a, b);
  if (doCross(bolt.a, bolt.b, a, b)) return 0;
  return Math.min(distanceToLine(bolt.a, a, b), distanceToLine(bolt.b, a, b), distanceToLine(a, bolt.a, bolt.b), distanceToLine(b, bolt.a, bolt.b));
}

function distanceToLine(point: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((point.x - a.x) * dx + (point.y - a.y) * dy) / square));
  return Math.hypot(point.x - a.x - share * dx, point.y - a.y - share * dy);
}

function doCross(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point): number => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

function middleOf({ a, b }: Hole): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

function round(at: Point, diameterMm: number): Hole {
  return { a: at, b: at, diameterMm };
}

function add(a: Point, b: Point): Point {
  return { x: a.x + b.x, y: a.y + b.y };
}

function subtract(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y };
}

function subsets(count: number, size: number): number[][] {
  if (size === 0) return [[]];
  if (count < size) return [];
  return [...subsets(count - 1, size), ...subsets(count - 1, size - 1).map((rest) => [...rest, count - 1])];
}
