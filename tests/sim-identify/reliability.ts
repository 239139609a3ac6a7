/** Claims gathered by how sure they were: a forecaster is calibrated when in each row as many are right as were claimed. */
export class Reliability {
  static readonly #edges: readonly number[] = [0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 1];
  #rows = Reliability.#edges.slice(1).map(() => ({ claims: 0, claimed: 0, right: 0 }));

  add(probability: number, right: boolean): void {
    const found = Reliability.#edges.findIndex((edge, i) => i > 0 && probability <= edge) - 1;
    const row = this.#rows[found < 0 ? this.#rows.length - 1 : found]!;
    row.claims++;
    row.claimed += probability;
    if (right) row.right++;
  }

  /** One line a row: how many claims, what they claimed on average, how many were right. */
  describe(): string[] {
    return this.#rows.flatMap(({ claims, claimed, right }, i) => claims === 0 ? [] : [
      `  ${Reliability.#edges[i]!.toFixed(2)} to ${Reliability.#edges[i + 1]!.toFixed(2)}  ${String(claims).padStart(7)} claims`
      + `  claimed ${(100 * claimed / claims).toFixed(2).padStart(6)} %  right ${(100 * right / claims).toFixed(2).padStart(6)} %`]);
  }
}
