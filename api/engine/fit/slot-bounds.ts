import { UNPRICED, type PriceIndex, type ProfileGate } from '../retrieve/index.ts';
import type { Verdict } from '../../../catalog-schema/index.ts';
import type { KnownLeast } from './known-least.ts';
import { orderKeyOf, pricedKeyOf, type OrderKey } from './order-key.ts';

/** Behind every place: it will not do. */
export const NOWHERE: OrderKey = Number.POSITIVE_INFINITY;

/** A chance of fitting, at most, and what the misfit costs. */
export interface Chance { readonly chance: number; readonly misfitMinor: number }

/** By likeness of terminals to those of the removed part. */
export interface ByLikeness { readonly alike: Chance; readonly unlike: Chance }

/**
 * The best place that each slot of one profile can still come to by its price, by what it leaves unsaid, and by what is known so far of the work it
 * asks for; some ten nanoseconds a slot.
 */
export class SlotBounds {
  readonly #index: PriceIndex;
  readonly #mask: number;
  readonly #verdict: Verdict;
  readonly #isPriced: boolean;
  readonly #chancesOf: (mask: number) => ByLikeness;
  readonly #isAlike: (row: number) => boolean;
  readonly #known: KnownLeast;
  readonly #best: Chance;
  #lastMask = -1;
  #last: ByLikeness;

  /**
   * @param doubt of parts in doubt
   * @param chancesOf what a mask of the profile's doubts leaves at most; more of them leave no more
   * @param isAlike only asked where it makes a difference
   */
  constructor(
    index: PriceIndex, profile: ProfileGate, doubt: boolean, isPriced: boolean, chancesOf: (mask: number) => ByLikeness, isAlike: (row: number) => boolean,
    known: KnownLeast,
  ) {
    this.#index = index;
    this.#mask = doubt ? profile.doubtMask : 0;
    this.#verdict = doubt ? 'unproven' : 'direct';
    this.#isPriced = isPriced;
    this.#chancesOf = chancesOf;
    this.#isAlike = isAlike;
    this.#known = known;
    this.#last = chancesOf(0);
    this.#best = this.#last.alike;
  }

  /** Of this slot and of all that follow in its profile. */
  floorAt(slot: number): OrderKey {
    return this.#keyAt(slot, this.#best);
  }

  /** NOWHERE where it is known that the part will not do. */
  keyAt(slot: number): OrderKey {
    const chance = this.chanceAt(slot);
    const { rows, landed } = this.#index;
    if (!this.#isPriced || landed[slot] === UNPRICED) return this.#keyAt(slot, chance);
    const row = rows[slot]!;
    const least = landed[slot]! + chance.misfitMinor;
    const surely = this.#verdict === 'unproven' ? NOWHERE : this.#known.surelyOf(row);
    if (surely !== NOWHERE) return pricedKeyOf('direct', least + surely);
    const ever = this.#known.everOf(row);
    return ever === NOWHERE ? NOWHERE : pricedKeyOf('unproven', least + ever);
  }

  chanceAt(slot: number): Chance {
    const mask = this.#index.masks[slot]! & this.#mask;
    if (mask !== this.#lastMask) {
      this.#lastMask = mask;
      this.#last = this.#chancesOf(mask);
    }
    const { alike, unlike } = this.#last;
    return alike === unlike || this.#isAlike(this.#index.rows[slot]!) ? alike : unlike;
  }

  #keyAt(slot: number, { chance, misfitMinor }: Chance): OrderKey {
    const landed = this.#index.landed[slot]!;
    if (this.#isPriced && landed !== UNPRICED) return pricedKeyOf(this.#verdict, landed + misfitMinor);
    return orderKeyOf({ verdict: this.#verdict, fitProbability: chance, minutes: 0, isPriced: this.#isPriced, totalMinor: undefined });
  }
}
