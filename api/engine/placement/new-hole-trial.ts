import type { Placement } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { Bolt, Hole } from './match-holes.ts';
import type { Spot } from './offset.ts';
import type { Pose } from './solve-pose.ts';

type NewHole = Placement['newHoles'][number];

/** Which bolts get a hole in the bracket, and which holes of the part get one in the panel under them, as wide as `diameterMm`. */
export interface DrillPlan {
  readonly bracket: readonly NewSpot[];
  readonly panel: readonly { readonly hole: Hole; readonly diameterMm: number }[];
}

export interface NewSpot { readonly spot: Spot; readonly diameterMm: number }

/** New holes in a pose. `beyond`: how far the farthest new bracket hole lies outside the part's holes, in steps of its spacing: there may be no metal. */
export interface Found {
  readonly pose: Pose;
  readonly newHoles: NewHole[];
  readonly beyond: number;
}

const SHIFT_SPOKES = 24;
export const SPOKES = Array.from({ length: SHIFT_SPOKES }, (_, spoke) => ({ x: Math.cos((2 * Math.PI * spoke) / SHIFT_SPOKES), y: Math.sin((2 * Math.PI * spoke) / SHIFT_SPOKES) }));
const SPOKE_X = Float64Array.from(SPOKES, ({ x }) => x);
const SPOKE_Y = Float64Array.from(SPOKES, ({ y }) => y);
/** How much of a distance outside its nearest spoke shows at least. */
const LEAST_SHOWN = Math.cos(Math.PI / SHIFT_SPOKES);
/** So much farther than its spacing: a step outside is a little more than the least distance between holes. */
const STEP = 1.05;

/**
 * Where new holes go in one pose after another, for some bolts that pass and the ways to give the others a hole. Numbers stand in flat arrays and
 * nothing is made but the answer: this is asked hundreds of times for one part.
 */
export class NewHoleTrial {
  readonly #count: number;
  /** the part's holes as they are and as they lie: x, y, half slot x, half slot y of each */
  readonly #holes: Float64Array;
  readonly #laid: Float64Array;
  readonly #isRound: boolean;
  readonly #panelHoles: Float64Array;
  readonly #plans: readonly {
    readonly plan: DrillPlan;
    /** x, y, step outside, then the least distance (less rounding) from each hole of the part */
    readonly bracket: readonly Float64Array[];
    /** place of the part's hole, then the least distance from each hole of the panel */
    readonly panel: readonly { readonly at: number; readonly leastMm: Float64Array }[];
  }[];

  constructor(bolts: readonly Bolt[], holes: readonly Hole[], plans: readonly DrillPlan[]) {
    const spacing = settingOf('newHoleSpacing');
    const leastOf = (diameterMm: number, otherMm: number): number => spacing * Math.max(diameterMm, otherMm) - 1e-9;
    this.#count = holes.length;
    this.#holes = flatten(holes.map(({ spot }) => spot));
    this.#laid = new Float64Array(this.#holes.length);
    this.#isRound = [...holes, ...bolts].every(({ spot: { halfX, halfY } }) => halfX === 0 && halfY === 0);
    this.#panelHoles = flatten(bolts.map(({ spot }) => spot));
    this.#plans = plans.map((plan) => ({
      plan,
      bracket: plan.bracket.map(({ spot, diameterMm }) => Float64Array.of(spot.x, spot.y, spacing * diameterMm * STEP, ...holes.map((hole) => leastOf(diameterMm, hole.diameterMm)))),
      panel: plan.panel.map(({ hole, diameterMm }) => ({ at: holes.indexOf(hole), leastMm: Float64Array.from(bolts, ({ panelHoleMm }) => leastOf(diameterMm, panelHoleMm)) })),
    }));
  }

  /** Where the new holes go in this pose, or `undefined` when one would come too close to another hole of its sheet, or lie not `below` that far out. */
  placeAt(turnRad: number, x: number, y: number, excess: number, below: number): Found | undefined {
    this.#lay(Math.cos(turnRad), Math.sin(turnRad), x, y);
    for (const { plan, bracket, panel } of this.#plans) {
      if (!this.#keepsAway(bracket, panel)) continue;
      const beyond = this.#measureBeyond(bracket, below);
      if (beyond >= below) return undefined;
      const newHoles = [
        ...plan.bracket.map(({ spot, diameterMm }) => newHole(spot.x, spot.y, diameterMm, 'bracket')),
        ...panel.map(({ at }, index) => newHole(this.#laid[4 * at]!, this.#laid[4 * at + 1]!, plan.panel[index]!.diameterMm, 'panel')),
      ];
      return { pose: { turnRad, x, y, excess }, newHoles, beyond };
    }
    return undefined;
  }

  /**
   * How far outside the new holes of the best plan lie at least, however the part is turned about one of its holes on a bolt: the part's holes stay
   * within the farthest of them from there, and a distance beyond that shows on the nearest spoke but for its angle.
   */
  leastBeyondAbout(bolt: Spot, hole: Spot): number {
    let reach = 0;
    for (let at = 0; at < this.#holes.length; at += 4) reach = Math.max(reach, Math.hypot(this.#holes[at]! - hole.x, this.#holes[at + 1]! - hole.y));
    let least = Number.POSITIVE_INFINITY;
    for (const { bracket } of this.#plans) {
      let most = 0;
      for (const added of bracket) most = Math.max(most, Math.floor((Math.hypot(added[0]! - bolt.x, added[1]! - bolt.y) * LEAST_SHOWN - reach) / added[2]! - 1e-9));
      least = Math.min(least, most);
    }
    return least;
  }

  #lay(cos: number, sin: number, x: number, y: number): void {
    const holes = this.#holes;
    const laid = this.#laid;
    for (let at = 0; at < holes.length; at += 4) {
      laid[at] = cos * holes[at]! - sin * holes[at + 1]! + x;
      laid[at + 1] = sin * holes[at]! + cos * holes[at + 1]! + y;
      if (this.#isRound) continue;
      laid[at + 2] = cos * holes[at + 2]! - sin * holes[at + 3]!;
      laid[at + 3] = sin * holes[at + 2]! + cos * holes[at + 3]!;
    }
  }

  /** Whether the new holes keep their distance from those there are. */
  #keepsAway(bracket: readonly Float64Array[], panel: readonly { readonly at: number; readonly leastMm: Float64Array }[]): boolean {
    for (let each = 0; each < bracket.length; each++) {
      const added = bracket[each]!;
      for (let hole = 0; hole < this.#count; hole++) if (isNearer(added[0]!, added[1]!, this.#laid, 4 * hole, added[3 + hole]!)) return false;
    }
    for (let each = 0; each < panel.length; each++) {
      const { at, leastMm } = panel[each]!;
      for (let hole = 0; hole < leastMm.length; hole++) if (isNearer(this.#laid[4 * at]!, this.#laid[4 * at + 1]!, this.#panelHoles, 4 * hole, leastMm[hole]!)) return false;
    }
    return true;
  }

  /**
   * How far the farthest of the new holes lies outside the hull of the part's, in whole steps of its own spacing; 0 within one step.
   * Once it is `enough` nobody looks further.
   */
  #measureBeyond(bracket: readonly Float64Array[], enough: number): number {
    const laid = this.#laid;
    if (this.#count === 0) return 0;
    let most = 0;
    for (let each = 0; each < bracket.length; each++) {
      const added = bracket[each]!;
      const step = added[2]!;
      // No farther outside than from the nearest hole.
      let nearest = Number.POSITIVE_INFINITY;
      for (let at = 0; at < laid.length; at += 4) {
        const [dx, dy] = [added[0]! - laid[at]!, added[1]! - laid[at + 1]!];
        nearest = Math.min(nearest, dx * dx + dy * dy);
      }
      if (nearest < (step * (most + 1)) ** 2 * (1 - 1e-9)) continue;
      for (let spoke = 0; spoke < SHIFT_SPOKES; spoke++) {
        let outside = Number.POSITIVE_INFINITY;
        for (let at = 0; at < laid.length; at += 4) {
          const along = (added[0]! - laid[at]!) * SPOKE_X[spoke]! + (added[1]! - laid[at + 1]!) * SPOKE_Y[spoke]!;
          if (along < outside) outside = along;
        }
        const steps = Math.floor(outside / step);
        if (steps > most) most = steps;
        if (most >= enough) return most;
      }
    }
    return most;
  }
}

/** Whether a point is nearer than `leastMm` to a spot: its centre, or the centre line of its slot. */
function isNearer(x: number, y: number, spots: Float64Array, at: number, leastMm: number): boolean {
  let dx = x - spots[at]!;
  let dy = y - spots[at + 1]!;
  const halfX = spots[at + 2]!;
  const halfY = spots[at + 3]!;
  const square = halfX * halfX + halfY * halfY;
  if (square > 0) {
    const along = Math.max(-1, Math.min(1, (dx * halfX + dy * halfY) / square));
    dx -= along * halfX;
    dy -= along * halfY;
  }
  return leastMm > 0 && dx * dx + dy * dy < leastMm * leastMm;
}

function flatten(spots: readonly Spot[]): Float64Array {
  return Float64Array.from(spots.flatMap(({ x, y, halfX, halfY }) => [x, y, halfX, halfY]));
}

function newHole(x: number, y: number, diameterMm: number, sheet: NewHole['in']): NewHole {
  return { xMm: round(x), yMm: round(y), diameterMm, in: sheet };
}

function round(mm: number): number {
  return Math.round(mm * 1e6) / 1e6 + 0;
}
