/** A linear programme some of whose columns are whole numbers; its objective is minimised. */
export interface MixedIntegerModel {
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}

/** `upper` may be infinite. */
export interface Column { readonly cost: number; readonly lower: number; readonly upper: number; readonly whole: boolean }

/** lower <= sum of factor x column <= upper; each column once. */
export interface Row { readonly lower: number; readonly upper: number; readonly terms: readonly Term[] }
export type Term = readonly [column: number, factor: number];

/**
 * `optimal`: no better value than `bound` by more than the gap asked for. `limit`: the time ran out; `values` is the best found, if any.
 * `bound`: no solution costs less.
 */
export type MixedIntegerAnswer =
  | { readonly status: 'optimal'; readonly values: readonly number[]; readonly bound: number }
  | { readonly status: 'limit'; readonly values: readonly number[] | undefined; readonly bound: number }
  | { readonly status: 'infeasible' };

/**
 * A solver, handed in by who has one, so that the engine loads none. `gap`: how much worse than the bound an optimal value may be, in the
 * objective's unit. It blocks until it is done or `seconds` have gone by.
 */
export type SolveMixedInteger = (model: MixedIntegerModel, limits: { readonly seconds: number; readonly gap: number }) => MixedIntegerAnswer;

/** Puts a model together, column by column and row by row. */
export class ModelBuilder implements MixedIntegerModel {
  readonly columns: Column[] = [];
  readonly rows: Row[] = [];

  addWhole(upper: number, cost = 0): number { return this.columns.push({ cost, lower: 0, upper, whole: true }) - 1; }

  addChoice(cost = 0): number { return this.addWhole(1, cost); }

  /** Terms of one column are added up, so that a row may be written as it is thought. */
  addRow(lower: number, terms: readonly Term[], upper: number): void {
    const sums = new Map<number, number>();
    for (const [column, factor] of terms) sums.set(column, (sums.get(column) ?? 0) + factor);
    this.rows.push({ lower, upper, terms: [...sums].filter(([, factor]) => factor !== 0) });
  }

  /** Adds to what a unit of each of these columns costs. */
  charge(terms: readonly Term[]): void {
    for (const [column, factor] of terms) this.columns[column] = { ...this.columns[column]!, cost: this.columns[column]!.cost + factor };
  }
}
