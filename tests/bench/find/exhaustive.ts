// The yardstick: weighted edit distance to every number, one after the other. It imports nothing of the product; the weights stand here again, on their own.

/** A character misread costs 1, one that looks alike a quarter; swapped neighbours a half; a character lost or added three quarters. */
const WEIGHTS = { other: 1, alike: 0.25, swap: 0.5, gap: 0.75 };
const GROUPS = ['O0', 'I1L', 'B8', 'S5', 'Z2', 'G6'];
const LONGEST = 40;

const COST = new Float64Array(128 * 128).fill(WEIGHTS.other);
for (let code = 0; code < 128; code++) COST[code * 128 + code] = 0;
for (const group of GROUPS) for (const a of group) for (const b of group) if (a !== b) COST[a.charCodeAt(0) * 128 + b.charCodeAt(0)] = WEIGHTS.alike;

export interface Ranked { readonly at: number; readonly distance: number }

/** All numbers, each of plain capitals and figures, ready to be compared with one after the other. */
export class Exhaustive {
  readonly #numbers: Uint8Array[];
  readonly #rows = Array.from({ length: LONGEST + 1 }, () => new Float64Array(LONGEST + 1));

  constructor(numbers: readonly string[]) {
    this.#numbers = numbers.map(codesOf);
  }

  /** Every number within `limit` of the text, nearest first, then in order of the list. */
  rank(text: string, limit: number): Ranked[] {
    const read = codesOf(text.toUpperCase());
    const found: Ranked[] = [];
    this.#numbers.forEach((number, at) => {
      if (Math.abs(number.length - read.length) * WEIGHTS.gap > limit) return;
      const distance = this.#distance(read, number, limit);
      if (distance <= limit) found.push({ at, distance });
    });
    return found.sort((a, b) => a.distance - b.distance || a.at - b.at);
  }

  /** Optimal string alignment: no part of a swap is touched again. Infinite when certainly above `limit`. */
  #distance(a: Uint8Array, b: Uint8Array, limit: number): number {
    const rows = this.#rows;
    for (let j = 0; j <= b.length; j++) rows[0]![j] = j * WEIGHTS.gap;
    for (let i = 1; i <= a.length; i++) {
      const row = rows[i]!;
      const above = rows[i - 1]!;
      row[0] = i * WEIGHTS.gap;
      let least = row[0];
      for (let j = 1; j <= b.length; j++) {
        let best = Math.min(above[j]! + WEIGHTS.gap, row[j - 1]! + WEIGHTS.gap, above[j - 1]! + COST[a[i - 1]! * 128 + b[j - 1]!]!);
        if (i > 1 && j > 1) {
          const first = COST[a[i - 2]! * 128 + b[j - 1]!]!;
          const second = COST[a[i - 1]! * 128 + b[j - 2]!]!;
          if (first < WEIGHTS.other && second < WEIGHTS.other) best = Math.min(best, rows[i - 2]![j - 2]! + WEIGHTS.swap + first + second);
        }
        row[j] = best;
        if (best < least) least = best;
      }
      if (least > limit + WEIGHTS.other) return Number.POSITIVE_INFINITY;
    }
    return rows[a.length]![b.length]!;
  }
}

function codesOf(number: string): Uint8Array {
  return Uint8Array.from(number, (character) => character.charCodeAt(0));
}
