/**
 * A reading's axis on which it is everywhere equally uncertain: sigma(y) = root(floor^2 + (share y)^2) becomes 1, in cells half as wide.
 */
export class NumberScale {
  readonly cells: number;
  readonly #floor: number;
  readonly #share: number;
  readonly #most: number;
  readonly #unit: string;

  /** @param most greatest reading either way; beyond it lie the outermost cells */
  constructor(floor: number, share: number, most: number, unit: string) {
    this.#floor = floor;
    this.#share = share;
    this.#unit = unit;
    this.#most = this.#along(most);
    this.cells = 2 * Math.ceil(this.#most / CELL);
  }

  /** The cells that all these values can fall into. */
  reach(values: Float64Array, sigmas: Float64Array): { first: number; last: number } {
    let first = this.cells - 1;
    let last = 0;
    for (let i = 0; i < values.length; i++) {
      const middle = this.#along(values[i]!);
      const wide = this.#wideOf(values[i]!, sigmas[i]!);
      first = Math.min(first, this.#cellOf(middle - 3 * wide));
      last = Math.max(last, this.#cellOf(middle + 3 * wide));
    }
    return { first, last: Math.max(first, last) };
  }

  #wideOf(value: number, sigma: number): number { return Math.max(1, sigma / Math.sqrt(this.#floor ** 2 + (this.#share * value) ** 2)); }

  /**
   * Adds a weight about a value: normal, with the axis' own sigma and `sigma` of the machine's.
   * @param at where cell 0 would be in `into`
   */
  spread(value: number, sigma: number, weight: number, into: Float64Array, at: number): void {
    const middle = this.#along(value);
    const wide = this.#wideOf(value, sigma);
    const first = this.#cellOf(middle - 3 * wide);
    const last = this.#cellOf(middle + 3 * wide);
    if (first === last) {
      into[at + first]! += weight;
      return;
    }
    let total = 0;
    for (let cell = first; cell <= last; cell++) {
      const off = (this.#middleOf(cell) - middle) / wide;
      total += Math.exp(-off * off / 2);
    }
    if (total < 1e-6) {
      into[at + this.#cellOf(middle)]! += weight;
      return;
    }
    for (let cell = first; cell <= last; cell++) {
      const off = (this.#middleOf(cell) - middle) / wide;
      into[at + cell]! += weight * Math.exp(-off * off / 2) / total;
    }
  }

  /** The cells from `from` to before `to` in words; undefined: no end there. */
  sayRange(from: number | undefined, to: number | undefined): string {
    if (from === undefined) return to === undefined ? 'anything' : `below ${this.#say(to)}`;
    return to === undefined ? `above ${this.#say(from)}` : `${this.#say(from)} to ${this.#say(to)}`;
  }

  #say(cell: number): string {
    const value = Math.sinh((cell * CELL - this.cells * CELL / 2) * this.#share) * this.#floor / this.#share;
    const rounded = Math.abs(value) < 1 ? Math.round(value * 10) / 10 : Number(value.toPrecision(2));
    return `${rounded} ${this.#unit}`;
  }

  #along(value: number): number { return Math.asinh(value * this.#share / this.#floor) / this.#share; }

  #cellOf(along: number): number {
    const cell = Math.floor(along / CELL) + this.cells / 2;
    return Math.max(0, Math.min(this.cells - 1, cell));
  }

  #middleOf(cell: number): number { return (cell + 0.5 - this.cells / 2) * CELL; }
}

/** Width of a cell, sigmas. */
const CELL = 0.5;
