import type { Placement } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { newHoleMm } from './bolt-size.ts';
import { comparePoses, listAssignments, roomOf, type Bolt, type Hole } from './match-holes.ts';
import { measureToSpot, turnSpot, type Spot } from './offset.ts';
import { ON_THE_LIMIT_MM, poseAt, solvePose, type Pose, type Taken } from './solve-pose.ts';

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
  let best: Omit<Drilled, 'flipped'> | undefined;
  for (const { taken, holeOf } of listAssignments(keeping, holes, extraRoom)) {
    const free = holes.filter((_, index) => !holeOf.includes(index));
    const sheet = { bolts, holes, moved, free, inPanel };
    const found = taken.length === 0 ? drillCentred(sheet) : taken.length === 1 ? drillTurning(sheet, taken[0]!, limitTurn(best ?? known)) : drillHeld(sheet, taken);
    if (found && (!best || compareFound(found, best) < 0)) best = { ...found, passing: kept.length };
  }
  return best;
}

interface Sheet {
  readonly bolts: readonly Bolt[];
  readonly holes: readonly Hole[];
  /** bolts that get a new hole */
  readonly moved: readonly Bolt[];
  /** holes of the part that no bolt takes */
  readonly free: readonly Hole[];
  readonly inPanel: number;
}

type Found = Pick<Drilled, 'pose' | 'newHoles' | 'beyond'>;

function compareFound(a: Found, b: Found): number {
  return a.beyond - b.beyond || comparePoses(a.pose, b.pose);
}

/** Turns beyond one that is known and leaves nothing to wish for need not be tried. */
function limitTurn(known: Found | undefined): number {
  return known?.beyond === 0 ? (Math.abs(known.pose.turnRad) * 180) / Math.PI + TURN_STEP_DEG : 180;
}

function drillHeld(sheet: Sheet, taken: readonly Taken[]): Found | undefined {
  const pose = solvePose(taken);
  return pose && placeHoles(sheet, pose);
}

/** One bolt holds the part: the least turn about it that leaves the new holes far enough from others. */
function drillTurning(sheet: Sheet, held: Taken, mostDeg: number): Found | undefined {
  const tryAt = (turnRad: number): Found | undefined => {
    const pose = { ...poseAt([held], turnRad) };
    return pose.excess <= ON_THE_LIMIT_MM ? placeHoles(sheet, pose) : undefined;
  };
  let best = tryAt(0);
  if (best?.beyond === 0) return best;
  for (let degrees = TURN_STEP_DEG; degrees <= mostDeg; degrees += TURN_STEP_DEG) {
    for (const sign of [1, -1]) {
      let high = (sign * degrees * Math.PI) / 180;
      let found = tryAt(high);
      if (!found || (best && found.beyond >= best.beyond)) continue;
      const { beyond } = found;
      let low = (sign * (degrees - TURN_STEP_DEG) * Math.PI) / 180;
      for (let i = 0; i < 30; i++) {
        const middle = (low + high) / 2;
        const nearer = tryAt(middle);
        if (nearer && nearer.beyond <= beyond) {
          found = nearer;
          high = middle;
        } else low = middle;
      }
      if (found.beyond === 0) return found;
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

/** Where the new holes go in this pose, or `undefined` when one would come too close to another hole of its sheet. */
function placeHoles(sheet: Sheet, pose: Pose): Found | undefined {
  const laid = sheet.holes.map(({ spot, diameterMm }) => ({ spot: lay(spot, pose), diameterMm }));
  for (const panelBolts of chooseSubsets(sheet.moved.length, sheet.inPanel)) {
    const overBolts = sheet.moved.filter((_, index) => !panelBolts.includes(index));
    const bracket = overBolts.map((bolt) => ({ x: bolt.spot.x, y: bolt.spot.y, diameterMm: newHoleMm(bolt.diameterMm) }));
    if (!keepApart(bracket, laid)) continue;
    for (const chosen of chooseSubsets(sheet.free.length, sheet.inPanel)) {
      const panel = chosen.map((index, i) => {
        const hole = sheet.free[index]!;
        const bolt = sheet.moved[panelBolts[i]!]!;
        const { x, y } = lay(hole.spot, pose);
        return { x, y, diameterMm: newHoleMm(bolt.diameterMm), passes: roomOf(bolt, hole) >= -ON_THE_LIMIT_MM };
      });
      if (panel.some((hole) => !hole.passes) || !keepApart(panel, sheet.bolts.map((bolt) => ({ spot: bolt.spot, diameterMm: bolt.panelHoleMm })))) continue;
      const newHoles = [...bracket.map((hole) => newHole(hole, 'bracket')), ...panel.map((hole) => newHole(hole, 'panel'))];
      return { pose, newHoles, beyond: measureBeyond(bracket, laid) };
    }
  }
  return undefined;
}

function newHole(hole: { x: number; y: number; diameterMm: number }, sheet: NewHole['in']): NewHole {
  return { xMm: round(hole.x), yMm: round(hole.y), diameterMm: hole.diameterMm, in: sheet };
}

/** Whether each new hole keeps its distance to every other hole of the same sheet, the new ones included. */
function keepApart(
  added: readonly { x: number; y: number; diameterMm: number }[], there: readonly { spot: Spot; diameterMm: number }[],
): boolean {
  const spacing = settingOf('newHoleSpacing');
  return added.every((hole, index) =>
    there.every((other) => measureToSpot(hole.x, hole.y, other.spot) >= spacing * Math.max(hole.diameterMm, other.diameterMm) - 1e-9)
    && added.slice(index + 1).every((other) => Math.hypot(hole.x - other.x, hole.y - other.y) >= spacing * Math.max(hole.diameterMm, other.diameterMm) - 1e-9));
}

/** How far the farthest of the new holes lies outside the hull of the part's, in whole steps of its own spacing; 0 within one step. */
function measureBeyond(added: readonly { x: number; y: number; diameterMm: number }[], laid: readonly { spot: Spot }[]): number {
  if (laid.length === 0) return 0;
  let most = 0;
  for (const hole of added) {
    for (const { x, y } of SPOKES) {
      let outside = Number.POSITIVE_INFINITY;
      for (const { spot } of laid) outside = Math.min(outside, (hole.x - spot.x) * x + (hole.y - spot.y) * y);
      most = Math.max(most, Math.floor(outside / (settingOf('newHoleSpacing') * hole.diameterMm * 1.05)));
    }
  }
  return most;
}

function lay(spot: Spot, pose: Pose): Spot {
  const turned = turnSpot(spot, pose.turnRad, false);
  return { ...turned, x: turned.x + pose.x, y: turned.y + pose.y };
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
