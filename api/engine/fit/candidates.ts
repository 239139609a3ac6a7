import { createSlotJudge, SlotScan, type PriceIndex, type ProfileGate, type SlotJudge } from '../retrieve/index.ts';
import type { FitGates } from './gates-of.ts';
import { comparePlaced, type Placed } from './order-heap.ts';
import type { Prospects } from './prospects.ts';

/** A part that no number puts out, and the best place it can come to by its price and what it leaves unsaid. */
export interface Candidate extends Placed {
  readonly row: number;
  readonly slot: number;
  readonly profile: ProfileGate;
  /** drawn from among those in doubt */
  readonly doubt: boolean;
}

/**
 * Parts that may fit, first those in no doubt, then the others, each profile in order of what a part costs here; with the best place that any
 * part not yet drawn can have (`floor`). Within a profile cost, then rank, only rise; so whoever follows is not before the one at hand.
 */
export class Candidates {
  readonly #index: PriceIndex;
  readonly #gates: FitGates;
  readonly #prospects: Prospects;
  readonly #judge: SlotJudge;
  #doubt = false;
  #scans: { scan: SlotScan; floor: Placed }[] = [];
  #next: { scan: SlotScan; floor: Placed } | undefined;
  /** the next best floor */
  #second: Placed | undefined;

  constructor(index: PriceIndex, gates: FitGates, prospects: Prospects, judge: SlotJudge = createSlotJudge(index, gates)) {
    this.#index = index;
    this.#gates = gates;
    this.#prospects = prospects;
    this.#judge = judge;
    this.#open(false);
  }

  /** Nothing that is drawn from now on comes before it; undefined when nothing is left. */
  get floor(): Placed | undefined {
    return this.#next?.floor;
  }

  /** The part at the floor, if it is one; undefined also where it turned out not to be, or to be one of those that will not do. */
  draw(): Candidate | undefined {
    const next = this.#next!;
    const { scan } = next;
    const { slot, profile } = scan;
    const fate = this.#judge.judge(slot, profile);
    const row = this.#index.rows[slot]!;
    const isWanted = fate !== 'out' && (this.#doubt ? fate === 'doubt' || profile.doubt : fate === 'sure');
    const key = isWanted ? this.#prospects.firstKey(slot, profile, this.#doubt) : undefined;
    const doubt = this.#doubt;
    scan.next();
    if (scan.slot >= 0) next.floor = this.#floorOf(scan);
    else this.#scans.splice(this.#scans.indexOf(next), 1);
    // While it is still the first, nobody else need be asked.
    if (scan.slot < 0 || (this.#second && comparePlaced(next.floor, this.#second) > 0)) this.#choose();
    return key && { row, slot, profile, doubt, key, rank: this.#index.snapshot.ranks[row]! };
  }

  #open(doubt: boolean): void {
    this.#doubt = doubt;
    this.#scans = this.#gates.profiles.filter((profile) => doubt || !profile.doubt)
      .map((profile) => new SlotScan(this.#index, this.#index.partitions[profile.profile]!, profile, this.#gates, doubt ? 'possible' : 'sure'))
      .filter(({ slot }) => slot >= 0).map((scan) => ({ scan, floor: this.#floorOf(scan) }));
    this.#choose();
  }

  #floorOf({ slot, profile }: SlotScan): Placed {
    return { key: this.#prospects.floorKey(slot, profile, this.#doubt), rank: this.#index.snapshot.ranks[this.#index.rows[slot]!]! };
  }

  #choose(): void {
    this.#next = undefined;
    this.#second = undefined;
    for (const each of this.#scans) {
      if (!this.#next || comparePlaced(each.floor, this.#next.floor) < 0) {
        this.#second = this.#next?.floor;
        this.#next = each;
      } else if (!this.#second || comparePlaced(each.floor, this.#second) < 0) this.#second = each.floor;
    }
    if (!this.#next && !this.#doubt) this.#open(true);
  }
}
