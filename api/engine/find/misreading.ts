import type { NumberChange } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { LOOKS } from './number-code.ts';

// How far a number that was read is from one that exists: the least cost of the misreadings between them (optimal string alignment: of two
// neighbours that were swapped, neither is touched again). Costs are counted in quarters of another character, so that they are whole.

const QUARTERS = 4;
const CONFUSED = settingOf('findConfused') * QUARTERS;
export const SWAPPED = settingOf('findSwapped') * QUARTERS;
export const LOST = settingOf('findLost') * QUARTERS;
export const OTHER = QUARTERS;
/** Most misreading at which two numbers are still compared character by character. */
export const FURTHEST = settingOf('findFurthest') * QUARTERS;
/** Misreadings that are each likely stay likely together up to this. */
const LIKELY = settingOf('findLikely') * QUARTERS;

/** Out of reach. */
export const FAR = 2 * FURTHEST;

const costOfPair = (a: number, b: number): number => (a === b ? 0 : LOOKS[a] === LOOKS[b] ? CONFUSED : OTHER);

/** Compares one number that was read with many. */
export class Comparer {
  readonly #read: Uint8Array;
  #before: Uint16Array;
  #last: Uint16Array;
  #row: Uint16Array;

  constructor(read: Uint8Array) {
    this.#read = read;
    this.#before = new Uint16Array(read.length + 1);
    this.#last = new Uint16Array(read.length + 1);
    this.#row = new Uint16Array(read.length + 1);
  }

  /** The least cost between what was read and a number (from `from` to before `to` of `codes`); more than `most` where it is more than that. */
  costOf(codes: Uint8Array, from: number, to: number, most: number): number {
    const read = this.#read;
    const n = read.length;
    const m = to - from;
    const side = Math.floor(most / LOST);
    if (Math.abs(m - n) > side) return FAR;
    let [before, last, row] = [this.#before, this.#last, this.#row];
    for (let j = 0; j <= n; j++) last[j] = j * LOST;
    for (let i = 1; i <= m; i++) {
      const code = codes[from + i - 1]!;
      // Further from the diagonal too many are lost or added.
      const first = Math.max(0, i - side);
      const end = Math.min(n, i + side);
      let least = FAR;
      if (first > 0) row[first - 1] = FAR;
      for (let j = first; j <= end; j++) {
        let cost = j < i + side || i === 1 ? last[j]! + LOST : FAR;
        if (j > 0) {
          const pair = last[j - 1]! + costOfPair(read[j - 1]!, code);
          if (pair < cost) cost = pair;
          if (row[j - 1]! + LOST < cost) cost = row[j - 1]! + LOST;
          if (i > 1 && j > 1) {
            const swap = before[j - 2]! + costOfSwap(read, codes, from + i - 1, j);
            if (swap < cost) cost = swap;
          }
        }
        row[j] = cost;
        if (cost < least) least = cost;
      }
      // A swap steps over one row.
      if (least > most + OTHER) return FAR;
      [before, last, row] = [last, row, before];
    }
    return last[n]!;
  }
}

/** Of the neighbours that end at j of what was read and at `at` of the number; out of reach where they are not the same two. */
function costOfSwap(read: Uint8Array, codes: Uint8Array, at: number, j: number): number {
  const [first, second] = [costOfPair(read[j - 1]!, codes[at - 1]!), costOfPair(read[j - 2]!, codes[at]!)];
  return first === OTHER || second === OTHER ? FAR : SWAPPED + first + second;
}

/** Whether what was read is likely a misreading of the number. */
export function isLikely(read: Uint8Array, codes: Uint8Array): boolean {
  if (read.length === codes.length && read.every((code, at) => LOOKS[code] === LOOKS[codes[at]!])) return true;
  return leastLikely(read, codes) <= LIKELY;
}

/** The least cost without a character read for one that does not look like it, and with one lost or added at most. */
function leastLikely(read: Uint8Array, codes: Uint8Array): number {
  const [n, m] = [read.length, codes.length];
  if (Math.abs(n - m) > 1) return Number.POSITIVE_INFINITY;
  // Index [i][j][lost]: i characters of the number, j of what was read, so many lost or added.
  const width = (n + 1) * 2;
  const least = new Float64Array((m + 1) * width).fill(Number.POSITIVE_INFINITY);
  least[0] = 0;
  const offer = (place: number, cost: number): void => {
    if (cost < least[place]!) least[place] = cost;
  };
  for (let i = 0; i <= m; i++) {
    for (let j = 0; j <= n; j++) {
      for (let lost = 0; lost < 2; lost++) {
        const cost = least[i * width + j * 2 + lost]!;
        if (cost > LIKELY) continue;
        if (i < m && j < n && LOOKS[read[j]!] === LOOKS[codes[i]!]) offer((i + 1) * width + (j + 1) * 2 + lost, cost + costOfPair(read[j]!, codes[i]!));
        if (i + 1 < m && j + 1 < n) offer((i + 2) * width + (j + 2) * 2 + lost, cost + costOfSwap(read, codes, i + 1, j + 2));
        if (lost === 0 && i < m) offer((i + 1) * width + j * 2 + 1, cost + LOST);
        if (lost === 0 && j < n) offer(i * width + (j + 1) * 2 + 1, cost + LOST);
      }
    }
  }
  return Math.min(least[m * width + n * 2]!, least[m * width + n * 2 + 1]!);
}

/** What happened to a number so that it was read so, by one way of the least cost; both normalised, characters of both beside them. */
export function listChanges(read: Uint8Array, readText: readonly string[], codes: Uint8Array, text: readonly string[]): NumberChange[] {
  const [n, m] = [read.length, codes.length];
  const width = n + 1;
  const least = new Float64Array((m + 1) * width);
  for (let i = 0; i <= m; i++) {
    for (let j = 0; j <= n; j++) {
      least[i * width + j] = i === 0 && j === 0 ? 0 : Math.min(
        i > 0 && j > 0 ? least[(i - 1) * width + j - 1]! + costOfPair(read[j - 1]!, codes[i - 1]!) : Number.POSITIVE_INFINITY,
        i > 1 && j > 1 ? least[(i - 2) * width + j - 2]! + costOfSwap(read, codes, i - 1, j) : Number.POSITIVE_INFINITY,
        i > 0 ? least[(i - 1) * width + j]! + LOST : Number.POSITIVE_INFINITY, j > 0 ? least[i * width + j - 1]! + LOST : Number.POSITIVE_INFINITY,
      );
    }
  }
  const changes: NumberChange[] = [];
  let [i, j] = [m, n];
  while (i > 0 || j > 0) {
    const cost = least[i * width + j]!;
    const pair = i > 0 && j > 0 ? costOfPair(read[j - 1]!, codes[i - 1]!) : 0;
    if (i > 0 && j > 0 && cost === least[(i - 1) * width + j - 1]! + pair) {
      if (pair > 0) changes.push({ kind: pair === CONFUSED ? 'confused' : 'other', read: readText[j - 1]!, is: text[i - 1]! });
      [i, j] = [i - 1, j - 1];
    } else if (i > 1 && j > 1 && cost === least[(i - 2) * width + j - 2]! + costOfSwap(read, codes, i - 1, j)) {
      changes.push({ kind: 'swapped', read: readText[j - 2]! + readText[j - 1]!, is: text[i - 2]! + text[i - 1]! });
      [i, j] = [i - 2, j - 2];
    } else if (i > 0 && cost === least[(i - 1) * width + j]! + LOST) {
      changes.push({ kind: 'lost', read: '', is: text[i - 1]! });
      i--;
    } else {
      changes.push({ kind: 'added', read: readText[j - 1]!, is: '' });
      j--;
    }
  }
  return changes.toReversed();
}
