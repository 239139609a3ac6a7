import type { MachineMounting, Mounting, MountingHole } from '../../../catalog-schema/index.ts';
import { readBoltMm } from './bolt-size.ts';
import { ON_THE_LIMIT_MM } from './solve-pose.ts';

interface PlainBolt { readonly xMm: number; readonly yMm: number; readonly halfSlotMm: number; readonly diameterMm: number }

/**
 * What any placement on one machine needs at least, without looking for one. Two bolts can only pass two holes whose distances agree, within
 * the room of both and the travel of slots, with the bolts' uncertainty in favour: `matchHoles` and `drillHoles` ask for that, and more, of the
 * bolts that pass. So the most bolts that keep their distances in holes of their own are at least those that pass, whatever turn, shift or flip.
 */
export class HoleNeeds {
  readonly #bolts: readonly PlainBolt[];
  readonly #spreadMm: number;
  readonly #isPanelDrillable: boolean;

  constructor(machine: MachineMounting) {
    this.#bolts = machine.holes.map((hole) => ({ xMm: hole.xMm, yMm: hole.yMm, halfSlotMm: halfSlotOf(hole), diameterMm: readBoltMm(machine, hole).boltMm }));
    this.#spreadMm = machine.plusMinusMm ?? 0;
    this.#isPanelDrillable = machine.drillable === true;
  }

  /**
   * Some microseconds.
   * @param surely with the bolts' uncertainty not in favour but against: what is needed where the outcome shall not be `unknown`
   * @returns undefined where no placement can be: what is missing may not be drilled
   */
  leastNewHoles({ holes, drillable }: Mounting, surely = false): number | undefined {
    const missing = this.#bolts.length - this.#countPassing(holes, surely ? -this.#spreadMm : this.#spreadMm);
    if (missing === 0) return 0;
    if (drillable === true) return missing;
    // Every bolt then gets a hole of the part, some of them a new one in the panel under it.
    return this.#isPanelDrillable && holes.length >= this.#bolts.length ? missing : undefined;
  }

  /** The most bolts that may pass together. */
  #countPassing(holes: readonly MountingHole[], extraMm: number): number {
    const bolts = this.#bolts;
    const taken: number[] = [];
    let most = 0;
    const place = (index: number, passing: number): void => {
      if (passing > most) most = passing;
      if (index === bolts.length || passing + bolts.length - index <= most) return;
      for (let hole = 0; hole < holes.length; hole++) {
        if (taken.includes(hole) || !this.#mayPass(index, hole, holes, taken, extraMm)) continue;
        taken[index] = hole;
        place(index + 1, passing + 1);
        if (most === bolts.length) return;
      }
      taken[index] = -1;
      place(index + 1, passing);
      taken.length = index;
    };
    place(0, 0);
    if (most > 1) return most;
    // A lone bolt is where it is: its uncertainty gives it no room, and takes none.
    return bolts.some(({ diameterMm }) => holes.some((hole) => hole.diameterMm - diameterMm >= -2 * ON_THE_LIMIT_MM)) ? 1 : 0;
  }

  #mayPass(index: number, hole: number, holes: readonly MountingHole[], taken: readonly number[], extraMm: number): boolean {
    const bolt = this.#bolts[index]!;
    const at = holes[hole]!;
    const room = (at.diameterMm - bolt.diameterMm) / 2 + extraMm;
    if (room < -ON_THE_LIMIT_MM) return false;
    for (let before = 0; before < index; before++) {
      const other = taken[before]!;
      if (other < 0) continue;
      const there = holes[other]!;
      const first = this.#bolts[before]!;
      const apartMm = Math.abs(Math.hypot(bolt.xMm - first.xMm, bolt.yMm - first.yMm) - Math.hypot(at.xMm - there.xMm, at.yMm - there.yMm));
      const otherRoom = Math.max(0, (there.diameterMm - first.diameterMm) / 2 + extraMm);
      const travelMm = bolt.halfSlotMm + first.halfSlotMm + halfSlotOf(at) + halfSlotOf(there);
      if (apartMm > Math.max(0, room) + otherRoom + travelMm + 2 * ON_THE_LIMIT_MM) return false;
    }
    return true;
  }
}

function halfSlotOf({ slotMm = 0 }: MountingHole): number {
  return slotMm / 2;
}
