/** A seeded stream of draws (mulberry32, public domain): the same seed gives the same studs and parts on every machine. */
export class Draws {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** Even in [0, 1). */
  unit(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let bits = this.#state;
    bits = Math.imul(bits ^ (bits >>> 15), bits | 1);
    bits ^= bits + Math.imul(bits ^ (bits >>> 7), bits | 61);
    return ((bits ^ (bits >>> 14)) >>> 0) / 4294967296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.unit();
  }

  /** Even in the logarithm. */
  logBetween(low: number, high: number): number {
    return Math.exp(this.between(Math.log(low), Math.log(high)));
  }

  /** Standard normal (Box and Muller). */
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.unit())) * Math.cos(2 * Math.PI * this.unit());
  }

  chance(share: number): boolean {
    return this.unit() < share;
  }

  /** One of the items, by its weight (not scaled). */
  pick<Item>(items: readonly Item[], weightOf: (item: Item) => number = () => 1): Item {
    let left = this.unit() * items.reduce((sum, item) => sum + weightOf(item), 0);
    for (const item of items) {
      left -= weightOf(item);
      if (left < 0) return item;
    }
    return items.at(-1)!;
  }

  shuffle<Item>(items: readonly Item[]): Item[] {
    const mixed = [...items];
    for (let i = mixed.length - 1; i > 0; i--) {
      const j = Math.floor(this.unit() * (i + 1));
      [mixed[i], mixed[j]] = [mixed[j]!, mixed[i]!];
    }
    return mixed;
  }
}
