/** Seeded draws (mulberry32): the same seed gives the same bench on every machine. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** 0 to below 1 */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  whole(least: number, most: number): number {
    return least + Math.floor(this.next() * (most - least + 1));
  }

  one<T>(list: ArrayLike<T>): T {
    return list[this.whole(0, list.length - 1)]!;
  }

  text(alphabet: string, length: number): string {
    return Array.from({ length }, () => this.one(alphabet)).join('');
  }
}
