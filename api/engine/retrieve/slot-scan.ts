import { bitColumnOf, type Gates, type ProfileGate } from './gates.ts';
import { isMost, PRESENT, UNSAID, type BitColumn } from './index-bits.ts';
import type { Partition, PriceIndex } from './price-index.ts';

/** Which parts are looked for: those no demand leaves in doubt, or those that are not out. */
export type Wanted = 'sure' | 'possible';

/**
 * Walks the slots of one profile that may be what is wanted, in order of what they cost, then of id. It leaves no wanted part out; parts
 * between two limits of a column come along and have to be looked at one by one (`judgeSlot`).
 *
 * Why none is left out: a list of bits has a 1 for every part on the right side of its limit and for every part that does not say. The
 * limit taken is on the wrong side of what is demanded, or at it: for 'least' the greatest kept limit at most the least code that may be
 * through, for 'most' the least kept one at least the greatest. So each list holds all wanted parts, and so does what they have in common.
 * A list of what is said is only taken where leaving that unsaid puts a part in doubt (`sure`) or out.
 */
export class SlotScan {
  readonly partition: Partition;
  readonly profile: ProfileGate;
  /** the slot it stands at; -1 at the end */
  slot = -1;
  readonly #bits: Uint32Array;
  readonly #lists: readonly number[];
  #word = -1;
  #left = 0;

  constructor(index: PriceIndex, partition: Partition, profile: ProfileGate, gates: Gates, wanted: Wanted) {
    this.partition = partition;
    this.profile = profile;
    this.#bits = index.bits;
    this.#lists = chooseLists(partition, profile, gates, wanted);
    this.next();
  }

  /** Goes to the next slot. */
  next(): void {
    const { words, start, count } = this.partition;
    const bits = this.#bits;
    const lists = this.#lists;
    let left = this.#left;
    let word = this.#word;
    while (left === 0) {
      if (++word >= words) {
        this.#word = word;
        this.slot = -1;
        return;
      }
      left = bits[lists[0]! + word]!;
      for (let at = 1; at < lists.length && left !== 0; at++) left &= bits[lists[at]! + word]!;
    }
    const at = (word << 5) + (31 - Math.clz32(left & -left));
    this.#word = word;
    this.#left = left & (left - 1);
    this.slot = at < count ? start + at : -1;
  }
}

/** Where the lists of bits to be taken together begin; those that leave most out first. */
function chooseLists(partition: Partition, profile: ProfileGate, { columns, sealing }: Gates, wanted: Wanted): number[] {
  const { words, bitsAt, limits } = partition;
  const lists: { at: number; kept: number }[] = [];
  const takeLeast = (name: BitColumn, code: number): void => {
    const { first, codes } = limits.get(name)!;
    let which = -1;
    while (which + 1 < codes.length && codes[which + 1]! <= code) which++;
    if (which >= 0) lists.push({ at: bitsAt + (first + which) * words, kept: codes.length - which });
  };
  const takeMost = (name: BitColumn, code: number): void => {
    const { first, codes } = limits.get(name)!;
    const which = codes.findIndex((limit) => limit >= code);
    if (which >= 0) lists.push({ at: bitsAt + (first + which) * words, kept: which + 1 });
  };
  for (const gate of columns) {
    const name = bitColumnOf(gate.column);
    if (name === undefined) continue;
    if (isMost(name)) takeMost(name, wanted === 'sure' ? gate.sureHigh : gate.high);
    else takeLeast(name, wanted === 'sure' ? gate.sureLow : gate.low);
  }
  if (sealing) {
    takeLeast('sealingSolids', sealing.leastSolids);
    takeLeast('sealingWater', sealing.leastWater);
  }
  const needed = profile.outMask | (wanted === 'sure' ? profile.doubtMask : 0);
  UNSAID.forEach((_, which) => {
    if ((needed >>> which) & 1) lists.push({ at: bitsAt + which * words, kept: 8 });
  });
  return lists.length === 0 ? [bitsAt + PRESENT * words] : lists.toSorted((a, b) => a.kept - b.kept).map(({ at }) => at);
}
