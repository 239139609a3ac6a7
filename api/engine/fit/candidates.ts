import { createSlotJudge, SlotScan, type PriceIndex, type ProfileGate, type SlotJudge } from '../retrieve/index.ts';
import type { FitGates } from './gates-of.ts';
import type { Placed } from './order-heap.ts';
import { doubtKeyOf, type OrderKey } from './order-key.ts';
import type { Prospects } from './prospects.ts';
import { NOWHERE, type SlotBounds } from './slot-bounds.ts';
import { SlotHeap } from './slot-heap.ts';

/** A part that no number puts out, and the best place it can come to by its price and what it leaves unsaid. */
export interface Candidate extends Placed {
  readonly row: number;
  readonly slot: number;
  readonly profile: ProfileGate;
  /** drawn from among those in doubt */
  readonly doubt: boolean;
}

/** The slots of one profile that may be what is wanted, and where they are met. */
interface Source {
  readonly scan: SlotScan;
  readonly bounds: SlotBounds;
  readonly doubt: boolean;
  /** the best place that what it has not given yet can come to */
  floor: OrderKey;
  floorRank: number;
}

/** Slots met at one go: to choose whose turn it is costs as much as to meet a dozen. */
const AT_ONE_GO = 16;

/**
 * Parts that may fit, first those in no doubt, then the others, in order of the best place each can come to by its price and what it leaves
 * unsaid. Slots are met profile by profile in order of price; one that was met waits as a number, and is only looked at when its turn comes.
 * Within a profile cost, then rank, only rise; so whoever follows is not before the one at hand.
 */
export class Candidates {
  readonly #index: PriceIndex;
  readonly #gates: FitGates;
  readonly #prospects: Prospects;
  readonly #judge: SlotJudge;
  readonly #doubtKey: OrderKey;
  readonly #met = new SlotHeap();
  /** whoever gave a slot that waits; those at their end too */
  readonly #sources: Source[] = [];
  /** places among them of those that still have slots */
  #open: number[] = [];
  #isInDoubt = false;

  constructor(index: PriceIndex, gates: FitGates, prospects: Prospects, isPriced: boolean, judge: SlotJudge = createSlotJudge(index, gates)) {
    this.#index = index;
    this.#gates = gates;
    this.#prospects = prospects;
    this.#judge = judge;
    this.#doubtKey = doubtKeyOf(isPriced);
    this.#openSources(false);
  }

  /** Is the next before this place, or might it be? */
  isBefore({ key, rank }: Placed): boolean {
    this.#meet();
    if (this.#isUpToDoubt()) return this.#doubtKey <= key;
    return !this.#met.isEmpty && (this.#met.key < key || (this.#met.key === key && this.#met.rank < rank));
  }

  get isAtEnd(): boolean {
    this.#meet();
    if (this.#isUpToDoubt()) {
      this.#openSources(true);
      this.#meet();
    }
    return this.#met.isEmpty;
  }

  /** The next; undefined where it turned out not to be what is wanted, or nobody is left. */
  draw(): Candidate | undefined {
    if (this.isAtEnd) return undefined;
    const { key, rank, slot, source } = this.#met;
    this.#met.pop();
    const { scan: { profile }, bounds, doubt } = this.#sources[source]!;
    // Since it was met more may have come out of its like.
    const now = bounds.keyAt(slot);
    if (now > key) {
      if (now !== NOWHERE) this.#met.push(now, rank, slot, source);
      return undefined;
    }
    const fate = this.#judge.judge(slot, profile);
    const isWanted = fate !== 'out' && (doubt ? fate === 'doubt' || profile.doubt : fate === 'sure');
    return isWanted ? { row: this.#index.rows[slot]!, slot, profile, doubt, key, rank } : undefined;
  }

  /** Has everybody been met who may be in no doubt, and nobody who waits is? */
  #isUpToDoubt(): boolean {
    return !this.#isInDoubt && (this.#met.isEmpty || this.#met.key >= this.#doubtKey);
  }

  #openSources(doubt: boolean): void {
    this.#isInDoubt = doubt;
    for (const profile of this.#gates.profiles) {
      if (!doubt && profile.doubt) continue;
      const scan = new SlotScan(this.#index, this.#index.partitions[profile.profile]!, profile, this.#gates, doubt ? 'possible' : 'sure');
      if (scan.slot < 0) continue;
      this.#open.push(this.#sources.length);
      const source = { scan, bounds: this.#prospects.boundsOf(profile, doubt), doubt, floor: 0, floorRank: 0 };
      this.#sources.push(source);
      this.#lift(source);
    }
  }

  /** Meets slots until the first that waits is not behind any that was not met. */
  #meet(): void {
    while (this.#open.length > 0) {
      let at = 0;
      let first = this.#sources[this.#open[0]!]!;
      let second = Number.POSITIVE_INFINITY;
      for (let other = 1; other < this.#open.length; other++) {
        const source = this.#sources[this.#open[other]!]!;
        if (source.floor < first.floor || (source.floor === first.floor && source.floorRank < first.floorRank)) {
          second = first.floor;
          first = source;
          at = other;
        } else if (source.floor < second) second = source.floor;
      }
      if (this.#waitsBefore(first)) return;
      if (!this.#meetSome(this.#open[at]!, first, second)) this.#open.splice(at, 1);
    }
  }

  /** Does somebody wait whose place is before all that a source has still to give? */
  #waitsBefore({ floor, floorRank }: Source): boolean {
    return !this.#met.isEmpty && (this.#met.key < floor || (this.#met.key === floor && this.#met.rank < floorRank));
  }

  /** Meets some slots of a source, more while it stays the first; false at its end. */
  #meetSome(which: number, source: Source, second: OrderKey): boolean {
    const { scan, bounds } = source;
    const { rows, snapshot: { ranks } } = this.#index;
    for (let met = 0; scan.slot >= 0; met++) {
      if (met >= AT_ONE_GO) {
        this.#lift(source);
        if (source.floor > second || this.#waitsBefore(source)) return true;
        met = 0;
      }
      const { slot } = scan;
      const key = bounds.keyAt(slot);
      if (key !== NOWHERE) this.#met.push(key, ranks[rows[slot]!]!, slot, which);
      scan.next();
    }
    return false;
  }

  /** Takes down where a source stands now. */
  #lift(source: Source): void {
    const { scan: { slot }, bounds } = source;
    source.floor = bounds.floorAt(slot);
    source.floorRank = this.#index.snapshot.ranks[this.#index.rows[slot]!]!;
  }
}
