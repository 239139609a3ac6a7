/** One tenth of the claims. */
export interface CalibrationRow { claims: number; claimed: number; right: number; squares: number }

/** Claimed probabilities against what came true: a reliability table in tenths, Brier score, its skill over the base rate, and the calibration error. */
export class Calibration {
  readonly rows: readonly CalibrationRow[] = Array.from({ length: 10 }, () => ({ claims: 0, claimed: 0, right: 0, squares: 0 }));

  add(probability: number, right: boolean): void {
    const row = this.rows[Math.min(9, Math.floor(probability * 10))]!;
    row.claims++;
    row.claimed += probability;
    row.squares += (probability - Number(right)) ** 2;
    if (right) row.right++;
  }

  /** Adds another table. */
  addRows(rows: readonly CalibrationRow[]): void {
    for (const [i, { claims, claimed, right, squares }] of rows.entries()) {
      const row = this.rows[i]!;
      row.claims += claims;
      row.claimed += claimed;
      row.right += right;
      row.squares += squares;
    }
  }

  /** Several as one. */
  static pool(each: readonly Calibration[]): Calibration {
    const pooled = new Calibration();
    for (const { rows } of each) pooled.addRows(rows);
    return pooled;
  }

  get claims(): number {
    return this.#sum('claims');
  }

  get baseRate(): number {
    return this.#sum('right') / this.claims;
  }

  get brier(): number {
    return this.#sum('squares') / this.claims;
  }

  /** 1 is perfect, 0 no better than always claiming the base rate. */
  get skill(): number {
    return 1 - this.brier / (this.baseRate * (1 - this.baseRate));
  }

  /** Expected calibration error: mean distance of claim and outcome over the rows, by their claims. */
  get error(): number {
    return this.rows.reduce((sum, { claimed, right }) => sum + Math.abs(claimed - right), 0) / this.claims;
  }

  describe(): string[] {
    return this.rows.flatMap(({ claims, claimed, right }, i) => claims === 0 ? [] : [
      `  ${(i / 10).toFixed(1)} to ${((i + 1) / 10).toFixed(1)}  ${String(claims).padStart(7)} claims  claimed ${(100 * claimed / claims).toFixed(1).padStart(5)} %  true ${(100 * right / claims).toFixed(1).padStart(5)} %`]);
  }

  #sum(key: keyof CalibrationRow): number {
    return this.rows.reduce((sum, row) => sum + row[key], 0);
  }
}
