/** The first few of many by total, then by rank. Kept in order, since they are few. */
export class BestRows {
  readonly #most: number;
  readonly #totals: number[] = [];
  readonly #ranks: number[] = [];
  readonly #rows: number[] = [];

  constructor(most: number) {
    this.#most = most;
  }

  /** Whether no part of at least this total can still come in, whatever its rank. */
  isBeyond(total: number): boolean {
    return this.#totals.length === this.#most && (this.#most === 0 || total > this.#totals[this.#most - 1]!);
  }

  offer(total: number, rank: number, row: number): void {
    let at = this.#totals.length;
    if (at === this.#most) {
      if (at === 0 || total > this.#totals[at - 1]! || (total === this.#totals[at - 1] && rank > this.#ranks[at - 1]!)) return;
      at--;
    }
    while (at > 0 && (this.#totals[at - 1]! > total || (this.#totals[at - 1] === total && this.#ranks[at - 1]! > rank))) {
      this.#totals[at] = this.#totals[at - 1]!;
      this.#ranks[at] = this.#ranks[at - 1]!;
      this.#rows[at] = this.#rows[at - 1]!;
      at--;
    }
    this.#totals[at] = total;
    this.#ranks[at] = rank;
    this.#rows[at] = row;
  }

  list(): { row: number; total: number }[] {
    return this.#rows.map((row, at) => ({ row, total: this.#totals[at]! }));
  }
}
