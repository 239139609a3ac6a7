import type { MachineMounting, Mounting, MountingHole, Placement } from '../../../catalog-schema/index.ts';
import { readBoltMm } from './bolt-size.ts';
import { drillHoles } from './drill-holes.ts';
import { HoleNeeds } from './hole-needs.ts';
import { matchHoles, type Bolt, type Hole } from './match-holes.ts';
import { turnSpot, type Spot } from './offset.ts';
import type { Pose } from './solve-pose.ts';

/** Whether and how a part goes on a machine's bolts. */
export interface PlacementAnswer {
  /** `pass` as it is, `work` turned over or with new holes, `unknown` when the bolts' uncertainty decides, `fail` */
  readonly outcome: 'pass' | 'work' | 'unknown' | 'fail';
  readonly placement: Placement | null;
  /** in one sentence */
  readonly why: string;
  /** the room left at the worst bolt that passes, mm; null where none was asked to */
  readonly marginMm: number | null;
  readonly assumptions: readonly string[];
}

/**
 * Is there a turn, a shift and, where it helps, a flip so that each machine bolt passes a hole or slot of its own?
 * machine = shift + R(rotationDeg, counter-clockwise) * F * part, F turning x into -x. A bolt passes when its offset from the hole's
 * centre or the slot's centre line is at most (diameterMm - boltMm) / 2; a slotted machine hole lets its bolt travel along the slot.
 * Of equal placements least work, least |turn|, least shift; where the part lies loose on its bolts, it is not turned and not shifted if it
 * need not be, else its bolts are centred as well as can be.
 * Otherwise the fewest new holes: in the bracket over the bolts when the part is drillable, in the panel under the part's holes when
 * the machine is; of equally few, the bracket's first.
 * `plusMinusMm` is how far each bolt may be from where it was measured: the whole interval must pass, partly is `unknown`.
 * A lone bolt is where it is: its uncertainty moves the part, not the answer.
 */
export function findPlacement(machine: MachineMounting, part: Mounting): PlacementAnswer {
  const assumptions: string[] = [];
  const bolts = machine.holes.map((hole): Bolt => {
    const { boltMm, assumption } = readBoltMm(machine, hole);
    if (assumption !== undefined && !assumptions.includes(assumption)) assumptions.push(assumption);
    return { spot: spotOf(hole), diameterMm: boltMm, panelHoleMm: hole.diameterMm };
  });
  const sides = [false, true].map((flipped) => ({ flipped, holes: part.holes.map((hole) => holeOf(hole, flipped)) }));
  const spread = machine.plusMinusMm ?? 0;
  const answer = (outcome: PlacementAnswer['outcome'], placement: Placement | null, why: string, marginMm: number | null): PlacementAnswer =>
    ({ outcome, placement, why, marginMm, assumptions });

  if (bolts.length === 0) return answer('pass', noTurn(), 'the machine has no bolts to line up', null);

  const may = { bracket: part.drillable === true, panel: machine.drillable === true };
  const needs = new HoleNeeds(machine);
  const least = needs.leastNewHoles(part);
  if (least === undefined) return answer('fail', null, explainFailure(bolts, part, may), null);
  // Each bolt surely in a hole; then, with the bolts' uncertainty in our favour.
  const surely = spread > 0 ? needs.leastNewHoles(part, true) : least;
  const rooms = [...(surely === undefined ? [] : [{ extraRoom: -spread, needed: surely }]), ...(spread > 0 ? [{ extraRoom: spread, needed: least }] : [])];
  for (const { extraRoom, needed } of rooms) {
    if (needed > 0) continue;
    for (const { flipped, holes } of sides) {
      const match = matchHoles(bolts, holes, extraRoom);
      if (!match) continue;
      const marginMm = -match.pose.excess - (bolts.length > 1 ? extraRoom : 0);
      const placement = placementOf(match.pose, flipped);
      const room = marginMm >= 0 ? `the tightest has ${formatMm(marginMm)} mm to spare` : `as measured they are ${formatMm(-marginMm)} mm out`;
      if (extraRoom > 0) {
        return answer('unknown', placement, `${describeBolts(bolts.length)} perhaps, ${describeTurn(placement)}: ${room}, and they are known to ${formatMm(spread)} mm only`, marginMm);
      }
      const words = `${describeBolts(bolts.length)} ${describeTurn(placement)}; ${room}`;
      return answer(flipped ? 'work' : 'pass', placement, flipped ? `${words}; the body then sits on the other side of the panel` : words, marginMm);
    }
  }

  for (const { extraRoom, needed } of rooms) {
    const drilled = drillHoles(bolts, sides, may, extraRoom, Math.max(1, needed));
    if (!drilled) continue;
    const placement: Placement = { ...placementOf(drilled.pose, drilled.flipped), newHoles: drilled.newHoles };
    const marginMm = drilled.passing > 0 ? -drilled.pose.excess - (drilled.passing > 1 ? extraRoom : 0) : null;
    const count = drilled.newHoles.length;
    const words = `${count} new ${count === 1 ? 'hole' : 'holes'} (${describeSheets(placement)}), ${drilled.passing} of ${bolts.length} bolts pass as they are, ${describeTurn(placement)}; see that there is metal where a hole goes`;
    return extraRoom > 0
      ? answer('unknown', placement, `${words}; the bolts are known to ${formatMm(spread)} mm only`, marginMm)
      : answer('work', placement, words, marginMm);
  }
  return answer('fail', null, explainFailure(bolts, part, may), null);
}

function spotOf(hole: MountingHole): Spot {
  const half = (hole.slotMm ?? 0) / 2;
  const angle = ((hole.slotAngleDeg ?? 0) * Math.PI) / 180;
  return { x: hole.xMm, y: hole.yMm, halfX: half * Math.cos(angle), halfY: half * Math.sin(angle) };
}

function holeOf(hole: MountingHole, flipped: boolean): Hole {
  return { spot: turnSpot(spotOf(hole), 0, flipped), diameterMm: hole.diameterMm };
}

function placementOf(pose: Pose, flipped: boolean): Placement {
  return { rotationDeg: tidy((pose.turnRad * 180) / Math.PI), flipped, shiftMm: [tidy(pose.x), tidy(pose.y)], newHoles: [] };
}

function noTurn(): Placement {
  return { rotationDeg: 0, flipped: false, shiftMm: [0, 0], newHoles: [] };
}

/** Takes out the last bits of arithmetic, and -0. */
function tidy(value: number): number {
  return Math.round(value * 1e9) / 1e9 + 0;
}

function describeBolts(count: number): string {
  return count === 1 ? 'the bolt passes' : count === 2 ? 'both bolts pass' : `all ${count} bolts pass`;
}

function describeTurn({ rotationDeg, flipped }: Placement): string {
  const turn = Math.abs(rotationDeg) < 0.05 ? 'without a turn' : `turned ${Math.round(Math.abs(rotationDeg) * 10) / 10} degrees ${rotationDeg > 0 ? 'counter-clockwise' : 'clockwise'}`;
  return flipped ? `turned over, ${turn}` : turn;
}

function describeSheets({ newHoles }: Placement): string {
  const bracket = newHoles.filter((hole) => hole.in === 'bracket').length;
  const panel = newHoles.length - bracket;
  return [bracket > 0 ? `${bracket} in the bracket` : '', panel > 0 ? `${panel} in the panel` : ''].filter((words) => words !== '').join(', ');
}

function explainFailure(bolts: readonly Bolt[], part: Mounting, may: { bracket: boolean; panel: boolean }): string {
  const pattern = bolts.length === 1
    ? 'no hole of the part takes the bolt'
    : `no turn, shift or flip brings ${bolts.length} bolts through the ${part.holes.length} ${part.holes.length === 1 ? 'hole' : 'holes'} of the part`;
  return may.bracket || may.panel
    ? `${pattern}, and new holes would sit too close to others`
    : `${pattern}; neither bracket nor panel is known to be drillable`;
}

function formatMm(mm: number): string {
  return String(Math.round(mm * 100) / 100 + 0);
}
