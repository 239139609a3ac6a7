import { beforeAll, expect, test } from 'vitest';
import type { Column, MixedIntegerModel, Row, SolveMixedInteger } from '../../engine/index.ts';
import { openSolver } from './open-solver.ts';

let solve: SolveMixedInteger;
beforeAll(async () => { solve = await openSolver(); });

const LIMITS = { seconds: 10, gap: 0.9 };
const column = (cost: number, upper: number): Column => ({ cost, lower: 0, upper, whole: true });
const row = (lower: number, terms: Row['terms'], upper: number): Row => ({ lower, terms, upper });
const NONE = Number.NEGATIVE_INFINITY;

test('a model that has a solution is never called without one, though the presolve of the solver says so', () => {
  // Columns 6, 8 and 9 at nought, 10 and 7 at most, 0 at two: every row holds.
  const model: MixedIntegerModel = {
    columns: [[1484, 2], [0, 2], [0, 1], [0, 1], [0, 1], [0, 1], [0, 2], [0, 1], [0, 1], [0, 1], [2033, 2], [0, 1], [0, 1]].map(([cost, upper]) => column(cost!, upper!)),
    rows: [
      row(1, [[2, 1], [3, 1], [4, 1]], 1), row(0, [[3, 1], [4, 2], [0, -1], [1, -1]], 0), row(NONE, [[1, 1], [5, -2]], 0),
      row(1, [[7, 1], [8, 1], [9, 1]], 1), row(0, [[8, 1], [9, 2], [6, -1]], 0), row(2, [[6, 1], [10, 1]], 2),
      row(NONE, [[6, 1], [11, -2]], 0), row(NONE, [[6, 1], [12, -2]], 0), row(0, [[5, 3], [11, 3], [12, 1]], 3),
    ],
  };
  const answer = solve(model, LIMITS);
  expect(answer.status).toBe('optimal');
  const { values } = answer as { values: readonly number[] };
  for (const { lower, terms, upper } of model.rows) {
    const sum = terms.reduce((total, [at, factor]) => total + factor * values[at]!, 0);
    expect(sum).toBeGreaterThanOrEqual(lower);
    expect(sum).toBeLessThanOrEqual(upper);
  }
});

test('a model without a solution is said to have none', () => {
  expect(solve({ columns: [column(1, 1)], rows: [row(2, [[0, 1]], 3)] }, LIMITS).status).toBe('infeasible');
});
