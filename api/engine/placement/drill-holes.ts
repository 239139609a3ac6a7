import type { Placement } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { newHoleMm } from './bolt-size.ts';
import { comparePoses, listAssignments, roomOf, type Bolt, type Hole } from './match-holes.ts';
import { measureToSpot, turnSpot, type Spot } from './offset.ts';
import { boundTurn, ON_THE_LIMIT_MM, solvePose, type Pose, type Taken } from './solve-pose.ts';

type NewHole = Placement['newHoles'][number];

export interface Drilled {
  readonly pose: Pose;
  readonly flipped: boolean;
  readonly newHoles: NewHole[];
  /** bolts that pass a hole of the part as it is */
  readonly passing: number;
  /** how far the farthest new bracket hole lies beyond the part's holes, in steps of its spacing: there may be no metal */
  readonly beyond: number;
}

interface Side { readonly flipped: boolean; readonly holes: readonly Hole[] }

/** Subsets and assignments looked at before the search is cut off: far above what four bolts need. */
const MOST_TRIES = 20_000;
const TURN_STEP_DEG = 1;
const SHIFT_STEP_MM = 1;
const SHIFT_RINGS = 40;
const SHIFT_SPOKES = 24;
const SPOKES = Array.from({ length: SHIFT_SPOKES }, (_, spoke) => ({ x: Math.cos((2 * Math.PI * spoke) / SHIFT_SPOKES), y: Math.sin((2 * Math.PI * spoke) / SHIFT_SPOKES) }));

/**
 * The fewest new holes with which every bolt has one of its own. In order: fewest holes, not turned over, fewest in the panel,
 * bracket holes near the part's own (its metal ends somewhere behind them), least |turn|, least shift.
 * Where two or more bolts pass, the part lies as they hold it; where one passes, the part may turn about it; where none does, it lies
 * straight and about centred on the bolts.
 */
export function drillHoles(
  bolts: readonly Bolt[], sides: readonly Side[], may: { bracket: boolean; panel: boolean }, extraRoom: number,
): Drilled | undefined {
  if (!may.bracket && !may.panel) return undefined;
  let tries = 0;
  for (let missing = 1; missing <= bolts.length; missing++) {
    for (const { flipped, holes } of sides) {
      for (let inPanel = may.bracket ? 0 : missing; inPanel <= (may.panel ? missing : 0); inPanel++) {
        let best: Drilled | undefined;
        for (const kept of chooseSubsets(bolts.length, bolts.length - missing)) {
          if (++tries > MOST_TRIES) return best;
          const drilled = drillFor(bolts, holes, kept, inPanel, extraRoom, best);
          if (drilled && (!best || compareFound(drilled, best) < 0)) best = { ...drilled, flipped };
        }
        if (best) return best;
      }
    }
  }
  return undefined;
}

/** One choice of the bolts that pass: the rest get new holes, `inPanel` of them under free holes of the part. */
function drillFor(
  bolts: readonly Bolt[], holes: readonly Hole[], kept: readonly number[], inPanel: number, extraRoom: number, known: Found | undefined,
): Omit<Drilled, 'flipped'> | undefined {
  const keeping = kept.map((index) => bolts[index]!);
  const moved = bolts.filter((_, index) => !kept.includes(index));
  if (holes.length < kept.length + inPanel) return undefined;
  const panelHoles = bolts.map(({ spot, panelHoleMm }) => ({ spot, diameterMm: panelHoleMm }));
  let best: Omit<Drilled, 'flipped'> | undefined;
  for (const { taken, holeOf } of listAssignments(keeping, holes, extraRoom)) {
    const least = taken.length > 1 ? boundTurn(taken) : 0;
    const toBeat = best ?? known;
    if (least === undefined || least > mostTurn(toBeat)) continue;
    const free = holes.filter((_, index) => !holeOf.includes(index));
    const plans = listPlans(moved, free, inPanel);
    if (plans.length === 0) continue;
    const sheet = { bolts, panelHoles, holes, plans };
    const found = taken.length === 0 ? drillCentred(sheet) : taken.length === 1 ? drillTurning(sheet, taken[0]!, toBeat) : drillHeld(sheet, taken);
    if (found && (!toBeat || compareFound(found, toBeat) < 0)) best = { ...found, passing: kept.length };
  }
  return best;
}

interface Sheet {
  readonly bolts: readonly Bolt[];
  /** holes of the machine's panel */
  readonly panelHoles: readonly NewSpot[];
  readonly holes: readonly Hole[];
  /** ways to give the bolts that do not pass a new hole, whatever the pose; the first that keeps its distances is taken */
  readonly plans: readonly Plan[];
}

/** Which bolts get a hole in the bracket, and which holes of the part get one in the panel under them, as wide as `diameterMm`. */
interface Plan {
  readonly bracket: readonly { readonly spot: Spot; readonly diameterMm: number }[];
  readonly panel: readonly { readonly hole: Hole; readonly diameterMm: number }[];
}

/** Those whose new holes keep their distance from each other: how the part lies changes nothing in that. */
function listPlans(moved: readonly Bolt[], free: readonly Hole[], inPanel: number): Plan[] {
  return chooseSubsets(moved.length, inPanel).flatMap((panelBolts) => {
    const bracket = moved.filter((_, index) => !panelBolts.includes(index)).map(({ spot, diameterMm }) => ({ spot, diameterMm: newHoleMm(diameterMm) }));
    if (!keepApart(bracket)) return [];
    return chooseSubsets(free.length, inPanel).flatMap((chosen) => {
      const pairs = chosen.map((index, i) => ({ hole: free[index]!, bolt: moved[panelBolts[i]!]! }));
      if (pairs.some(({ hole, bolt }) => roomOf(bolt, hole) < -ON_THE_LIMIT_MM)) return [];
      const panel = pairs.map(({ hole, bolt }) => ({ hole, diameterMm: newHoleMm(bolt.diameterMm) }));
      return keepApart(panel.map(({ hole: { spot }, diameterMm }) => ({ spot, diameterMm }))) ? [{ bracket, panel }] : [];
    });
  });
}

type Found = Pick<Drilled, 'pose' | 'newHoles' | 'beyond'>;

function compareFound(a: Found, b: Found): number {
  return a.beyond - b.beyond || comparePoses(a.pose, b.pose);
}

/** Turns beyond one that is known and leaves nothing to wish for need not be tried, rad. */
function mostTurn(known: Found | undefined): number {
  return known?.beyond === 0 ? Math.abs(known.pose.turnRad) + 1e-6 : Math.PI;
}

function drillHeld(sheet: Sheet, taken: readonly Taken[]): Found | undefined {
  const pose = solvePose(taken);
  return pose && placeHoles(sheet, pose);
}

/**
 * One bolt holds the part: the least turn about it that leaves the new holes far enough from others, and near the part's own.
 * @param toBeat the best known otherwise: what is no better need not be found
 */
function drillTurning(sheet: Sheet, held: Taken, toBeat: Found | undefined): Found | undefined {
  let best: Found | undefined;
  const tryAt = (turnRad: number, below: number): Found | undefined => {
    const turned = turnSpot(held.hole, turnRad, false);
    return placeHoles(sheet, { turnRad, x: held.bolt.x - turned.x, y: held.bolt.y - turned.y, excess: -held.room }, below);
  };
  const belowAt = (degrees: number): number => {
    const known = !toBeat ? Number.POSITIVE_INFINITY : (degrees * Math.PI) / 180 > Math.abs(toBeat.pose.turnRad) ? toBeat.beyond : toBeat.beyond + 1;
    return Math.min(known, best?.beyond ?? Number.POSITIVE_INFINITY);
  };
  best = tryAt(0, belowAt(0));
  for (let degrees = TURN_STEP_DEG; degrees <= 180 && belowAt(degrees - TURN_STEP_DEG) > 0; degrees += TURN_STEP_DEG) {
    for (const sign of [1, -1]) {
      let high = (sign * degrees * Math.PI) / 180;
      let found = tryAt(high, belowAt(degrees - TURN_STEP_DEG));
      if (!found) continue;
      let low = (sign * (degrees - TURN_STEP_DEG) * Math.PI) / 180;
      for (let i = 0; i < 30; i++) {
        const middle = (low + high) / 2;
        const nearer = tryAt(middle, found.beyond + 1);
        if (nearer) {
          found = nearer;
          high = middle;
        } else low = middle;
      }
      best = found;
    }
  }
  return best;
}

/** No bolt holds the part: straight, with its holes about centred on the bolts, moved no farther than the new holes ask for. */
function drillCentred(sheet: Sheet): Found | undefined {
  const from = meanOf(sheet.holes.map(({ spot }) => spot));
  const to = meanOf(sheet.bolts.map(({ spot }) => spot));
  for (let ring = 0; ring <= SHIFT_RINGS; ring++) {
    for (const spoke of ring === 0 ? SPOKES.slice(0, 1) : SPOKES) {
      const x = to.x - from.x + ring * SHIFT_STEP_MM * spoke.x;
      const y = to.y - from.y + ring * SHIFT_STEP_MM * spoke.y;
      const pose: Pose = { turnRad: 0, x, y, excess: 0 };
      const found = placeHoles(sheet, pose);
      if (found) return found;
    }
  }
  return undefined;
}

/** Where the new holes go in this pose, or `undefined` when one would come too close to another hole of its sheet, or lie not `below` that far out. */
function placeHoles({ panelHoles, holes, plans }: Sheet, pose: Pose, below = Number.POSITIVE_INFINITY): Found | undefined {
  const laid = layHoles(holes, pose);
  for (const plan of plans) {
    if (!plan.bracket.every((hole) => keepsAway(hole, laid))) continue;
    const panel = plan.panel.map(({ hole, diameterMm }) => ({ spot: laid[holes.indexOf(hole)]!.spot, diameterMm }));
    if (!panel.every((hole) => keepsAway(hole, panelHoles))) continue;
    const beyond = measureBeyond(plan.bracket, laid, below);
    if (beyond >= below) return undefined;
    const newHoles = [...plan.bracket.map((hole) => newHole(hole, 'bracket')), ...panel.map((hole) => newHole(hole, 'panel'))];
    return { pose, newHoles, beyond };
  }
  return undefined;
}

interface NewSpot { readonly spot: Spot; readonly diameterMm: number }

function newHole({ spot, diameterMm }: NewSpot, sheet: NewHole['in']): NewHole {
  return { xMm: round(spot.x), yMm: round(spot.y), diameterMm, in: sheet };
}

/** Whether a new hole keeps its distance from those there are. */
function keepsAway({ spot: { x, y }, diameterMm }: NewSpot, there: readonly NewSpot[]): boolean {
  const spacing = settingOf('newHoleSpacing');
  for (const other of there) if (measureToSpot(x, y, other.spot) < spacing * Math.max(diameterMm, other.diameterMm) - 1e-9) return false;
  return true;
}

/** Whether new holes of one sheet keep their distance from each other. */
function keepApart(added: readonly NewSpot[]): boolean {
  const spacing = settingOf('newHoleSpacing');
  return added.every((hole, index) => added.slice(index + 1).every((other) => (
    Math.hypot(hole.spot.x - other.spot.x, hole.spot.y - other.spot.y) >= spacing * Math.max(hole.diameterMm, other.diameterMm) - 1e-9)));
}

/**
 * How far the farthest of the new holes lies outside the hull of the part's, in whole steps of its own spacing; 0 within one step.
 * Once it is `enough` nobody looks further.
 */
function measureBeyond(added: readonly NewSpot[], laid: readonly NewSpot[], enough: number): number {
  if (laid.length === 0) return 0;
  let most = 0;
  const spacing = settingOf('newHoleSpacing');
  for (const hole of added) {
    for (const { x, y } of SPOKES) {
      let outside = Number.POSITIVE_INFINITY;
      for (const { spot } of laid) outside = Math.min(outside, (hole.spot.x - spot.x) * x + (hole.spot.y - spot.y) * y);
      most = Math.max(most, Math.floor(outside / (spacing * hole.diameterMm * 1.05)));
      if (most >= enough) return most;
    }
  }
  return most;
}

/** The part's holes as they lie on the machine. */
function layHoles(holes: readonly Hole[], { turnRad, x, y }: Pose): NewSpot[] {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return holes.map(({ spot, diameterMm }) => ({
    spot: {
      x: cos * spot.x - sin * spot.y + x, y: sin * spot.x + cos * spot.y + y,
      halfX: cos * spot.halfX - sin * spot.halfY, halfY: sin * spot.halfX + cos * spot.halfY,
    },
    diameterMm,
  }));
}

function meanOf(spots: readonly Spot[]): { x: number; y: number } {
  if (spots.length === 0) return { x: 0, y: 0 };
  return { x: spots.reduce((sum, s) => sum + s.x, 0) / spots.length, y: spots.reduce((sum, s) => sum + s.y, 0) / spots.length };
}

/** Every choice of `size` indices below `count`, in order. */
function chooseSubsets(count: number, size: number): number[][] {
  if (size === 0) return [[]];
  if (size > count) return [];
  const found: number[][] = [];
  const pick = (from: number, chosen: number[]): void => {
    if (chosen.length === size) {
      found.push(chosen);
      return;
    }
    for (let index = from; index <= count - (size - chosen.length); index++) pick(index + 1, [...chosen, index]);
  };
  pick(0, []);
  return found;
}

function round(mm: number): number {
  return Math.round(mm * 1e6) / 1e6 + 0;
}
