import { LOOK_CLASS, LOOK_CLASSES } from './number-code.ts';
import type { Entries } from './number-trie.ts';

/** Entries of common runs of three are not counted beyond so many: what is left of the rest tells the entries apart. */
const MOST_COUNTED = 15_000;

const KEYS = LOOK_CLASSES ** 3;

/** Entries by each run of three characters they have, by look. */
export class TrigramIndex {
  readonly #starts: Uint32Array;
  readonly #postings: Uint32Array;
  /** how many runs of the one asked about each entry has; all 0 between questions */
  readonly #shared: Uint8Array;

  constructor({ codes, ends }: Entries) {
    const starts = new Uint32Array(KEYS + 1);
    // The last entry that was counted for a run: a run that comes twice in one number counts once.
    const seen = new Uint32Array(KEYS);
    const walk = (see: (key: number, entry: number) => void): void => {
      seen.fill(0);
      for (let entry = 0, at = 0; entry < ends.length; entry++) {
        for (const end = ends[entry]! - 2; at < end; at++) {
          const key = keyAt(codes, at);
          if (seen[key] === entry + 1) continue;
          seen[key] = entry + 1;
          see(key, entry);
        }
        at = ends[entry]!;
      }
    };
    walk((key) => { starts[key + 1]!++; });
    for (let key = 0; key < KEYS; key++) starts[key + 1]! += starts[key]!;
    const next = starts.slice();
    const postings = new Uint32Array(starts[KEYS]!);
    walk((key, entry) => { postings[next[key]!++] = entry; });
    this.#starts = starts;
    this.#postings = postings;
    this.#shared = new Uint8Array(ends.length);
  }

  get bytes(): number {
    return this.#starts.byteLength + this.#postings.byteLength + this.#shared.byteLength;
  }

  /** At most `most` entries that share runs of three with what was read, those that share most first, then in order of entry. */
  findSharing(read: Uint8Array, most: number): number[] {
    const keys = new Set<number>();
    for (let at = 0; at + 2 < read.length; at++) keys.add(keyAt(read, at));
    const sizeOf = (key: number): number => this.#starts[key + 1]! - this.#starts[key]!;
    const shared = this.#shared;
    const touched: number[] = [];
    let counted = 0;
    for (const key of [...keys].filter((each) => sizeOf(each) > 0).toSorted((a, b) => sizeOf(a) - sizeOf(b) || a - b)) {
      if (counted > 0 && counted + sizeOf(key) > MOST_COUNTED) break;
      for (let at = this.#starts[key]!, end = Math.min(this.#starts[key + 1]!, at + MOST_COUNTED); at < end; at++) {
        const entry = this.#postings[at]!;
        if (shared[entry] === 0) touched.push(entry);
        if (shared[entry]! < 255) shared[entry]!++;
      }
      counted += sizeOf(key);
    }
    const byCount: number[] = [];
    for (const entry of touched) byCount[shared[entry]!] = (byCount[shared[entry]!] ?? 0) + 1;
    // The least count of which not all entries have room.
    let [least, room] = [byCount.length, most];
    while (least > 1 && room >= (byCount[least - 1] ?? 0)) room -= byCount[--least] ?? 0;
    const found = touched.filter((entry) => shared[entry]! >= least);
    if (room > 0 && least > 1) found.push(...touched.filter((entry) => shared[entry] === least - 1).sort((a, b) => a - b).slice(0, room));
    found.sort((a, b) => shared[b]! - shared[a]! || a - b);
    for (const entry of touched) shared[entry] = 0;
    return found;
  }
}

function keyAt(codes: Uint8Array, at: number): number {
  return (LOOK_CLASS[codes[at]!]! * LOOK_CLASSES + LOOK_CLASS[codes[at + 1]!]!) * LOOK_CLASSES + LOOK_CLASS[codes[at + 2]!]!;
}
