import { normaliseNumber } from '../normalise-number.ts';
import { GrowingArray } from '../snapshot/index.ts';
import { Comparer, FURTHEST, isLikely, OTHER, SWAPPED } from './misreading.ts';
import { roomOfNumber, writeCodes } from './number-code.ts';
import { NumberTrie, type Entries } from './number-trie.ts';
import { IdTable } from './id-table.ts';
import type { PartSource } from './part-source.ts';
import { TrigramIndex } from './trigram-index.ts';

/** A number of a part: its own, one it is claimed to replace, or its id. */
export interface NumberEntry {
  readonly rank: number;
  readonly number: string;
  readonly issuer: string;
  readonly claim?: { readonly source?: string };
}

export interface NearNumber {
  readonly entry: NumberEntry;
  /** in quarters of a character */
  readonly cost: number;
  readonly likely: boolean;
}

/** Entries whose number is the same as a person writes it differently, looked at at most: one number on thousands of parts is none. */
const MOST_SAME = 500;
/** Near entries kept while looking; more than anybody reads. */
const MOST_NEAR = 64;
/** A number of so few characters is near to everything: of still fewer only what looks alike or was swapped is looked for. */
const LEAST_NEAR = 3;
/** Most of the numbers that have many near ones have enough of them by here. */
const BETWEEN = (OTHER + FURTHEST) / 2;
/** Numbers longer than this are found as they are written alone. */
const LONGEST_NEAR = 64;

/**
 * All numbers of a catalogue in typed arrays: own numbers, numbers that a part is claimed to replace, and ids. The id of a part
 * that has numbers is found as it is written only: near ids would hide near numbers.
 */
export class NumberIndex {
  readonly #source: PartSource;
  readonly #entries: Entries;
  readonly #ranks: Uint32Array;
  /** which of a part's numbers: its own, then claims, then its id */
  readonly #slots: Uint16Array | Uint32Array;
  readonly #forward: NumberTrie;
  readonly #backward: NumberTrie;
  readonly #trigrams: TrigramIndex;
  readonly #ids: IdTable;

  constructor(source: PartSource) {
    this.#source = source;
    const ends = new GrowingArray(new Uint32Array(source.count));
    const ranks = new GrowingArray(new Uint32Array(source.count));
    const slots = new GrowingArray(new Uint32Array(source.count));
    let codes = new Uint8Array(Math.max(1 << 16, source.count * 12));
    let used = 0;
    let lastSlot = 0;
    const add = (number: string, rank: number, slot: number): void => {
      const room = used + roomOfNumber(number);
      if (room > codes.length) {
        const larger = new Uint8Array(Math.max(room, codes.length * 2));
        larger.set(codes.subarray(0, used));
        codes = larger;
      }
      const end = writeCodes(number, codes, used);
      // Without a letter or digit it is no number.
      if (end === used) return;
      used = end;
      ends.push(end);
      ranks.push(rank);
      slots.push(slot);
      lastSlot = Math.max(lastSlot, slot);
    };
    for (let rank = 0; rank < source.count; rank++) {
      const { id, numbers, replaces } = source.namesAt(rank);
      numbers.forEach(({ number }, slot) => add(number, rank, slot));
      replaces.forEach(({ number }, slot) => add(number, rank, numbers.length + slot));
      if (numbers.length === 0) add(id, rank, replaces.length);
    }
    // From here on an entry is known by its place from the front.
    this.#forward = new NumberTrie({ codes: codes.subarray(0, used), ends: ends.values }, false);
    this.#entries = this.#forward.entries;
    const { order } = this.#forward;
    this.#ranks = order.map((entry) => ranks.values[entry]!);
    this.#slots = (lastSlot > 0xffff ? new Uint32Array(order.length) : new Uint16Array(order.length)).map((_, at) => slots.values[order[at]!]!);
    this.#backward = new NumberTrie(this.#entries, true);
    this.#trigrams = new TrigramIndex(this.#entries);
    this.#ids = new IdTable(source);
  }

  /** Bytes of all arrays. */
  get bytes(): number {
    return this.#ranks.byteLength + this.#slots.byteLength + this.#forward.bytes + this.#backward.bytes + this.#trigrams.bytes + this.#ids.bytes;
  }

  /** Every number and id that is the one read but for case and separators, in order of id. `read` are its codes, `wanted` it normalised. */
  findSame(read: Uint8Array, wanted: string): NumberEntry[] {
    const found: NumberEntry[] = [];
    const { from, to } = this.#forward.rangeOf(read);
    for (let entry = from; entry < to && found.length < MOST_SAME; entry++) {
      if (!this.#hasCodes(entry, read)) continue;
      const each = this.#entryAt(entry);
      if (normaliseNumber(each.number) === wanted) found.push(each);
    }
    for (const rank of this.#ids.ranksOf(wanted)) found.push({ rank, number: this.#source.idAt(rank), issuer: '' });
    return found.sort((a, b) => a.rank - b.rank);
  }

  /**
   * Numbers at most two other characters from the one read, nearest first, then by id; where enough parts lie nearer, those alone.
   * A number that is the one read but for case and separators is left out.
   */
  findNear(read: Uint8Array, wanted: string, enough: number): NearNumber[] {
    if (read.length > LONGEST_NEAR) return [];
    const reaches = read.length < LEAST_NEAR ? [SWAPPED] : read.length === LEAST_NEAR ? [OTHER] : [OTHER, BETWEEN, FURTHEST];
    for (const most of reaches) {
      const near = this.#searchWithin(read, most).flatMap(({ entry, cost }) => {
        const each = this.#entryAt(entry);
        if (cost > 0) return [{ entry: each, cost, likely: isLikely(read, this.#codesAt(entry)) }];
        // Two characters outside the alphabet may share a code: that is no likeness.
        return normaliseNumber(each.number) === wanted ? [] : [{ entry: each, cost: OTHER, likely: false }];
      });
      if (most === reaches.at(-1) || new Set(near.map(({ entry }) => entry.rank)).size >= enough) return near;
    }
    return [];
  }

  /** Numbers that share runs of three characters with the one read, most shared first. */
  findSharing(read: Uint8Array, most: number): NumberEntry[] {
    return read.length < LEAST_NEAR ? [] : this.#trigrams.findSharing(read.length > LONGEST_NEAR ? read.subarray(0, LONGEST_NEAR) : read, most).map((entry) => this.#entryAt(entry));
  }

  #searchWithin(read: Uint8Array, most: number): { entry: number; cost: number }[] {
    const { codes, ends } = this.#entries;
    const held: { entry: number; cost: number }[] = [];
    const counts = new Uint32Array(most + 1);
    let furthest = most;
    let nearer = 0;
    const seen = new Set<number>();
    const comparer = new Comparer(read);
    const take = (entry: number): number => {
      if (seen.has(entry)) return furthest;
      seen.add(entry);
      const cost = comparer.costOf(codes, entry === 0 ? 0 : ends[entry - 1]!, ends[entry]!, furthest);
      if (cost > furthest) return furthest;
      held.push({ entry, cost });
      counts[cost]!++;
      if (cost < furthest) nearer++;
      // Enough are nearer than the furthest: those are not wanted any more.
      while (nearer >= MOST_NEAR) nearer -= counts[--furthest]!;
      return furthest;
    };
    this.#forward.search(read, most, take, false);
    this.#backward.search(read, most, (place) => take(this.#backward.order[place]!), true);
    return this.#pickNearest(held);
  }

  #pickNearest(held: { entry: number; cost: number }[]): { entry: number; cost: number }[] {
    return held.sort((a, b) => a.cost - b.cost || this.#ranks[a.entry]! - this.#ranks[b.entry]! || a.entry - b.entry).slice(0, MOST_NEAR);
  }

  #hasCodes(entry: number, read: Uint8Array): boolean {
    const { codes, ends } = this.#entries;
    const start = entry === 0 ? 0 : ends[entry - 1]!;
    if (ends[entry]! - start !== read.length) return false;
    for (let at = 0; at < read.length; at++) if (codes[start + at] !== read[at]) return false;
    return true;
  }

  #codesAt(entry: number): Uint8Array {
    return this.#entries.codes.subarray(entry === 0 ? 0 : this.#entries.ends[entry - 1]!, this.#entries.ends[entry]!);
  }

  #entryAt(entry: number): NumberEntry {
    const rank = this.#ranks[entry]!;
    const slot = this.#slots[entry]!;
    const { id, numbers, replaces } = this.#source.namesAt(rank);
    const own = numbers[slot];
    if (own) return { rank, ...own };
    const claim = replaces[slot - numbers.length];
    if (!claim) return { rank, number: id, issuer: '' };
    return { rank, number: claim.number, issuer: claim.issuer, claim: claim.source === undefined ? {} : { source: claim.source } };
  }
}
