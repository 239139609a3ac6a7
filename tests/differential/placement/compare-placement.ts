import { findPlacement, HoleNeeds, type PlacementAnswer } from '../../../api/engine/placement/index.ts';
import type { Placement } from '../../../catalog-schema/index.ts';
import type { PatternCase } from './pattern-generator.ts';
import { CLEAR_DRILLED_MM, CLEAR_MM, searchGrid, type GridAnswer } from './plain-grid.ts';

export interface PlacementComparison {
  readonly differences: string[];
  /** what the grid says, where it says it clearly */
  readonly verdict: 'pass' | 'turned over' | 'new holes' | 'fail' | 'not clear';
}

/** Compares the engine's answer with the grid's, where the grid has clear margins; an answer's pose is checked in any case. */
export function comparePlacement({ machine, part }: PatternCase): PlacementComparison {
  const answer = findPlacement(machine, part);
  const grid = searchGrid(machine, part);
  const differences = [...checkPose(machine, part, answer), ...checkNeeds(machine, part, answer)];
  const verdict = verdictOf(machine, part, grid);
  const isDrilled = (answer.placement?.newHoles.length ?? 0) > 0;
  const found = answer.outcome === 'fail' ? 'fail' : isDrilled ? 'new holes' : answer.placement!.flipped ? 'turned over' : 'pass';
  if (verdict !== 'not clear' && found !== verdict) {
    differences.push(`found ${found}, want ${verdict} (margins ${grid.asItLies.margin.toFixed(2)}, ${grid.turnedOver.margin.toFixed(2)}; ${grid.drilled.map((mm) => mm.toFixed(2)).join(', ')})`);
  } else if (verdict === 'pass' || verdict === 'turned over') {
    const { leastTurnDeg } = verdict === 'pass' ? grid.asItLies : grid.turnedOver;
    const turnDeg = Math.abs(answer.placement!.rotationDeg);
    // The grid's least turn uses up the room of the bolts, the engine's centres them.
    if (turnDeg > leastTurnDeg + LOOSE_DEG) differences.push(`turned ${turnDeg} degrees, ${leastTurnDeg.toFixed(1)} would do`);
    if (leastTurnDeg < 0.05 && turnDeg !== 0) differences.push(`turned ${turnDeg} degrees without need`);
  } else if (verdict === 'new holes') {
    const want = grid.drilled.findIndex((margin) => margin >= CLEAR_DRILLED_MM) + 1;
    const count = answer.placement!.newHoles.length;
    const mayBeFewer = grid.drilled.slice(0, want - 1).some((margin) => margin > -CLEAR_DRILLED_MM);
    if (count > want || (count < want && !mayBeFewer)) differences.push(`${count} new holes, want ${want} (${grid.drilled.map((mm) => mm.toFixed(2)).join(', ')})`);
  }
  return { differences, verdict };
}

/** The room of bolts in their holes over the shortest arm there is. */
const LOOSE_DEG = 15;

function verdictOf(machine: PatternCase['machine'], part: PatternCase['part'], { asItLies, turnedOver, drilled }: GridAnswer): PlacementComparison['verdict'] {
  if (asItLies.margin >= CLEAR_MM) return 'pass';
  if (asItLies.margin > -CLEAR_MM) return 'not clear';
  if (turnedOver.margin >= CLEAR_MM) return 'turned over';
  if (turnedOver.margin > -CLEAR_MM) return 'not clear';
  if (machine.drillable !== true && part.drillable !== true) return 'fail';
  if (drilled.some((margin) => margin >= CLEAR_DRILLED_MM)) return 'new holes';
  // With every bolt in a new hole the part may lie anywhere: there the grid does not look.
  return 'not clear';
}

/** Is what any placement needs at least no more than what this one takes? */
function checkNeeds(machine: PatternCase['machine'], part: PatternCase['part'], { outcome, placement }: PlacementAnswer): string[] {
  const least = new HoleNeeds(machine).leastNewHoles(part);
  if (least === undefined) return outcome === 'fail' ? [] : ['a placement was found where none can be'];
  return placement && placement.newHoles.length < least ? [`${placement.newHoles.length} new holes where ${least} are needed at least`] : [];
}

/** Does the answer's own placement keep the contract's rules? */
function checkPose(machine: PatternCase['machine'], part: PatternCase['part'], { placement }: PlacementAnswer): string[] {
  if (!placement) return [];
  const differences: string[] = [];
  const laid = part.holes.map((hole) => lay(hole, placement));
  const bolts = machine.holes.map((hole) => lay(hole, { rotationDeg: 0, flipped: false, shiftMm: [0, 0], newHoles: [] }));
  const inBracket = placement.newHoles.filter((hole) => hole.in === 'bracket');
  const inPanel = placement.newHoles.filter((hole) => hole.in === 'panel');
  if (inBracket.length > 0 && part.drillable !== true) differences.push('a new hole in a bracket that may not be drilled');
  if (inPanel.length > 0 && machine.drillable !== true) differences.push('a new hole in a panel that may not be drilled');
  for (const hole of inBracket) {
    if (!bolts.some((bolt) => distance(hole, bolt) < 1e-5)) differences.push('a new hole of the bracket is over no bolt');
    differences.push(...keepAway(hole, [...laid, ...inBracket.filter((other) => other !== hole).map(asSpot)]));
  }
  for (const hole of inPanel) {
    if (!laid.some((one) => Math.hypot(hole.xMm - one.x, hole.yMm - one.y) < 1e-5)) differences.push('a new hole of the panel is under no hole of the part');
    differences.push(...keepAway(hole, [...bolts, ...inPanel.filter((other) => other !== hole).map(asSpot)]));
  }
  // Every bolt that gets no new hole passes a hole of its own: a matching of bolts and holes.
  const stays = bolts.length - placement.newHoles.length;
  if (countMatched(bolts, laid, machine.boltMm) < stays) differences.push(`fewer than ${stays} bolts pass a hole of their own`);
  return differences;
}

interface Spot { x: number; y: number; halfX: number; halfY: number; diameterMm: number }
type NewHole = Placement['newHoles'][number];

function lay(hole: { xMm: number; yMm: number; diameterMm: number; slotMm?: number; slotAngleDeg?: number }, placement: Placement): Spot {
  const angle = ((hole.slotAngleDeg ?? 0) * Math.PI) / 180;
  const half = (hole.slotMm ?? 0) / 2;
  const turn = (placement.rotationDeg * Math.PI) / 180;
  const sign = placement.flipped ? -1 : 1;
  const rotate = (x: number, y: number): [number, number] => [Math.cos(turn) * x - Math.sin(turn) * y, Math.sin(turn) * x + Math.cos(turn) * y];
  const [x, y] = rotate(sign * hole.xMm, hole.yMm);
  const [halfX, halfY] = rotate(sign * half * Math.cos(angle), half * Math.sin(angle));
  return { x: x + placement.shiftMm[0], y: y + placement.shiftMm[1], halfX, halfY, diameterMm: hole.diameterMm };
}

function asSpot(hole: NewHole): Spot {
  return { x: hole.xMm, y: hole.yMm, halfX: 0, halfY: 0, diameterMm: hole.diameterMm };
}

/** From a point to a spot's centre line. */
function distance(hole: { xMm: number; yMm: number }, spot: Spot): number {
  const dx = hole.xMm - spot.x;
  const dy = hole.yMm - spot.y;
  const square = spot.halfX ** 2 + spot.halfY ** 2;
  const share = square === 0 ? 0 : Math.max(-1, Math.min(1, (dx * spot.halfX + dy * spot.halfY) / square));
  return Math.hypot(dx - share * spot.halfX, dy - share * spot.halfY);
}

function keepAway(hole: NewHole, others: readonly Spot[]): string[] {
  return others.filter((other) => distance(hole, other) < 1.5 * Math.max(hole.diameterMm, other.diameterMm) - 1e-5)
    .map((other) => `a new hole ${distance(hole, other).toFixed(2)} mm from one of ${other.diameterMm} mm`);
}

/** Most bolts that can have a hole each at once (augmenting paths). A slot of the machine is sampled along its line. */
function countMatched(bolts: readonly Spot[], holes: readonly Spot[], boltMm: number): number {
  const passes = (bolt: Spot, hole: Spot): boolean => Array.from({ length: 401 }, (_, k) => (k - 200) / 200)
    .some((share) => distance({ xMm: bolt.x + share * bolt.halfX, yMm: bolt.y + share * bolt.halfY }, hole) <= (hole.diameterMm - boltMm) / 2 + 2e-3);
  const holderOf = new Map<number, number>();
  const seat = (bolt: number, seen: Set<number>): boolean => holes.some((hole, index) => {
    if (seen.has(index) || !passes(bolts[bolt]!, hole)) return false;
    seen.add(index);
    const holder = holderOf.get(index);
    if (holder !== undefined && !seat(holder, seen)) return false;
    holderOf.set(index, bolt);
    return true;
  });
  return bolts.filter((_, bolt) => seat(bolt, new Set())).length;
}
