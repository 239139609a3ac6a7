import type { Snapshot } from '../snapshot/index.ts';

/** No placement can be: no part of the pattern will do. */
const NEVER = 2 ** 31 - 1;
/** No placement that is not in doubt can be. */
const ONLY_IN_DOUBT = -1;

/**
 * What was found out so far of the work that lists of terminals and patterns of holes ask for at least, in minor units: nothing of those
 * nobody looked at. So what the first part of a kind showed is known of the others before anybody looks at them.
 */
export class KnownLeast {
  readonly #terminals: Uint16Array | Uint32Array;
  readonly #patterns: Uint32Array;
  readonly #ofTerminals: Int32Array;
  #ever = new Int32Array(512);
  #surely = new Int32Array(512);

  constructor({ terminals, terminalLists, patterns }: Snapshot) {
    this.#terminals = terminals;
    this.#patterns = patterns;
    this.#ofTerminals = new Int32Array(terminalLists);
  }

  setTerminals(row: number, minor: number): void {
    this.#ofTerminals[this.#terminals[row]!] = clamp(minor);
  }

  /** @param ever of any placement; @param surely of one that is not in doubt; undefined where there is none */
  setPattern(row: number, ever: number | undefined, surely: number | undefined): void {
    const pattern = this.#patterns[row]!;
    if (pattern >= this.#ever.length) [this.#ever, this.#surely] = [this.#ever, this.#surely].map((table) => enlarge(table, 2 * pattern)) as [Int32Array<ArrayBuffer>, Int32Array<ArrayBuffer>];
    this.#ever[pattern] = ever === undefined ? NEVER : clamp(ever);
    this.#surely[pattern] = surely === undefined ? ONLY_IN_DOUBT : clamp(surely);
  }

  /** What a row comes to at least, however it is placed; infinite where it cannot be. */
  everOf(row: number): number {
    const pattern = this.#patterns[row]!;
    const holes = pattern < this.#ever.length ? this.#ever[pattern]! : 0;
    return holes === NEVER ? Number.POSITIVE_INFINITY : holes + this.#ofTerminals[this.#terminals[row]!]!;
  }

  /** What it comes to where its placement is in no doubt; infinite where there is no such placement. */
  surelyOf(row: number): number {
    const pattern = this.#patterns[row]!;
    const holes = pattern < this.#surely.length ? this.#surely[pattern]! : 0;
    return holes === ONLY_IN_DOUBT ? Number.POSITIVE_INFINITY : holes + this.#ofTerminals[this.#terminals[row]!]!;
  }
}

function clamp(minor: number): number {
  return Math.min(NEVER - 1, minor);
}

function enlarge(table: Int32Array, length: number): Int32Array {
  const larger = new Int32Array(length);
  larger.set(table);
  return larger;
}
