/** Rows of standard normal numbers, the same on every run (mulberry32, public domain; Box and Muller 1958). Antithetic: each row's opposite follows it. */
export class NormalDraws {
  readonly #rows: Float64Array[] = [];
  readonly #width: number;
  #state: number;

  constructor(width: number, seed: number) {
    this.#width = width;
    this.#state = seed;
  }

  row(index: number): Float64Array {
    while (this.#rows.length <= index) {
      const row = Float64Array.from({ length: this.#width }, () => this.#normal());
      this.#rows.push(row, row.map((value) => -value));
    }
    return this.#rows[index]!;
  }

  /** Even in [0, 1). */
  even(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let bits = this.#state;
    bits = Math.imul(bits ^ (bits >>> 15), bits | 1);
    bits ^= bits + Math.imul(bits ^ (bits >>> 7), bits | 61);
    return ((bits ^ (bits >>> 14)) >>> 0) / 4_294_967_296;
  }

  #normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.even())) * Math.cos(2 * Math.PI * this.even());
  }
}
