import { settingOf } from '../settings.ts';
import { newHoleMm } from './bolt-size.ts';
import { comparePoses, listAssignments, roomOf, type Bolt, type Hole } from './match-holes.ts';
import { NewHoleTrial, SPOKES, type DrillPlan, type Found, type NewSpot } from './new-hole-trial.ts';
import type { Spot } from './offset.ts';
import { boundTurn, ON_THE_LIMIT_MM, solvePose, type Taken } from './solve-pose.ts';

export interface Drilled extends Found {
  readonly flipped: boolean;
  /** bolts that pass a hole of the part as it is */
  readonly passing: number;
}

interface Side { readonly flipped: boolean; readonly holes: readonly Hole[] }

/** Subsets and assignments looked at before the search is cut off: far above what four bolts need. */
const MOST_TRIES = 20_000;
const TURN_STEP_DEG = 1;
const SHIFT_STEP_MM = 1;
const SHIFT_RINGS = 40;

/**
 * The fewest new holes with which every bolt has one of its own. In order: fewest holes, not turned over, fewest in the panel,
 * bracket holes near the part's own (its metal ends somewhere behind them), least |turn|, least shift.
 * Where two or more bolts pass, the part lies as they hold it; where one passes, the part may turn about it; where none does, it lies
 * straight and about centred on the bolts.
 * @param least holes that are needed in any case, at least one
 */
export function drillHoles(
  bolts: readonly Bolt[], sides: readonly Side[], may: { bracket: boolean; panel: boolean }, extraRoom: number, least: number,
): Drilled | undefined {
  if (!may.bracket && !may.panel) return undefined;
  let tries = 0;
  for (let missing = least; missing <= bolts.length; missing++) {
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
  let best: Omit<Drilled, 'flipped'> | undefined;
  for (const { taken, holeOf } of listAssignments(keeping, holes, extraRoom)) {
    const least = taken.length > 1 ? boundTurn(taken) : 0;
    const toBeat = best ?? known;
    if (least === undefined || least > mostTurn(toBeat)) continue;
    const free = holes.filter((_, index) => !holeOf.includes(index));
    const plans = listPlans(moved, free, inPanel);
    if (plans.length === 0) continue;
    const trial = new NewHoleTrial(bolts, holes, plans);
    const found = taken.length === 0 ? drillCentred(trial, bolts, holes) : taken.length === 1 ? drillTurning(trial, taken[0]!, toBeat) : drillHeld(trial, taken);
    if (found && (!toBeat || compareFound(found, toBeat) < 0)) best = { ...found, passing: kept.length };
  }
  return best;
}

/** Those whose new holes keep their distance from each other: how the part lies changes nothing in that. */
function listPlans(moved: readonly Bolt[], free: readonly Hole[], inPanel: number): DrillPlan[] {
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

function compareFound(a: Found, b: Found): number {
  return a.beyond - b.beyond || comparePoses(a.pose, b.pose);
}

/** Turns beyond one that is known and leaves nothing to wish for need not be tried, rad. */
function mostTurn(known: Found | undefined): number {
  return known?.beyond === 0 ? Math.abs(known.pose.turnRad) + 1e-6 : Math.PI;
}

function drillHeld(trial: NewHoleTrial, taken: readonly Taken[]): Found | undefined {
  const pose = solvePose(taken);
  return pose && trial.placeAt(pose.turnRad, pose.x, pose.y, pose.excess, Number.POSITIVE_INFINITY);
}

/**
 * One bolt holds the part: the least turn about it that leaves the new holes far enough from others, and near the part's own.
 * @param toBeat the best known otherwise: what is no better need not be found
 */
function drillTurning(trial: NewHoleTrial, held: Taken, toBeat: Found | undefined): Found | undefined {
  let best: Found | undefined;
  const tryAt = (turnRad: number, below: number): Found | undefined => {
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    const x = cos * held.hole.x - sin * held.hole.y;
    const y = sin * held.hole.x + cos * held.hole.y;
    return trial.placeAt(turnRad, held.bolt.x - x, held.bolt.y - y, -held.room, below);
  };
  const belowAt = (degrees: number): number => {
    const known = !toBeat ? Number.POSITIVE_INFINITY : (degrees * Math.PI) / 180 > Math.abs(toBeat.pose.turnRad) ? toBeat.beyond : toBeat.beyond + 1;
    return Math.min(known, best?.beyond ?? Number.POSITIVE_INFINITY);
  };
  const least = trial.leastBeyondAbout(held.bolt, held.hole);
  best = tryAt(0, belowAt(0));
  for (let degrees = TURN_STEP_DEG; degrees <= 180 && belowAt(degrees - TURN_STEP_DEG) > least; degrees += TURN_STEP_DEG) {
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
function drillCentred(trial: NewHoleTrial, bolts: readonly Bolt[], holes: readonly Hole[]): Found | undefined {
  const from = meanOf(holes.map(({ spot }) => spot));
  const to = meanOf(bolts.map(({ spot }) => spot));
  for (let ring = 0; ring <= SHIFT_RINGS; ring++) {
    for (const spoke of ring === 0 ? SPOKES.slice(0, 1) : SPOKES) {
      const found = trial.placeAt(0, to.x - from.x + ring * SHIFT_STEP_MM * spoke.x, to.y - from.y + ring * SHIFT_STEP_MM * spoke.y, 0, Number.POSITIVE_INFINITY);
      if (found) return found;
    }
  }
  return undefined;
}

/** Whether new holes of one sheet keep their distance from each other. */
function keepApart(added: readonly NewSpot[]): boolean {
  const spacing = settingOf('newHoleSpacing');
  return added.every((hole, index) => added.slice(index + 1).every((other) => (
    Math.hypot(hole.spot.x - other.spot.x, hole.spot.y - other.spot.y) >= spacing * Math.max(hole.diameterMm, other.diameterMm) - 1e-9)));
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
