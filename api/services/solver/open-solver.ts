import loader, { type Highs } from 'highs';
import type { MixedIntegerAnswer, MixedIntegerModel, SolveMixedInteger } from '../../engine/index.ts';

/** The package's types describe its CommonJS file; what is loaded is its ES module, whose default is the function itself. */
const loadHighs = loader as unknown as typeof loader.default;

/** Whole numbers and rows are met to this; the widest factor of a row of orders is some 10^7 minor units. */
const TOLERANCE = 1e-9;

/** Of the time for a question, what asking it again may take. */
const SECOND_ASKING = 0.25;

/**
 * HiGHS, loaded once, as the solver that the engine asks for. It runs on the thread that calls it and blocks it: a server hands this to a
 * thread of its own. One seed, one thread: the same model gives the same answer as long as the time does not run out.
 */
export async function openSolver(): Promise<SolveMixedInteger> {
  const highs = await loadHighs();
  return (model, limits) => {
    const ask = (presolve: 'choose' | 'off', seconds: number): MixedIntegerAnswer => {
      const opened = highs.createModel(writeModel(highs, model));
      try {
        return solveOpened(highs, opened, { ...limits, seconds }, presolve);
      } finally {
        opened.dispose();
      }
    };
    const answer = ask('choose', limits.seconds);
    if (answer.status !== 'infeasible') return answer;
    // The solver's presolve has been seen to call a model without a solution that had one (`open-solver.test.ts`): its no is asked for twice.
    const again = ask('off', limits.seconds * SECOND_ASKING);
    return again.status === 'limit' && again.values === undefined ? answer : again;
  };
}

function solveOpened(highs: Highs, opened: ReturnType<Highs['createModel']>, { seconds, gap }: Parameters<SolveMixedInteger>[1], presolve: 'choose' | 'off'): MixedIntegerAnswer {
  opened.options.set({
    output_flag: false, presolve, random_seed: 1, time_limit: seconds, mip_rel_gap: 0, mip_abs_gap: Math.max(gap, 1e-6),
    mip_feasibility_tolerance: TOLERANCE, primal_feasibility_tolerance: TOLERANCE,
  });
  const { modelStatus } = opened.run();
  const statuses = highs.constants.modelStatus;
  if (modelStatus === statuses.infeasible) return { status: 'infeasible' };
  if (modelStatus === statuses.empty) return { status: 'optimal', values: [], bound: 0 };
  const bound = Number(opened.info.get('mip_dual_bound'));
  if (modelStatus === statuses.optimal) return { status: 'optimal', values: [...opened.getSolution().colValue], bound };
  if (modelStatus === statuses.timeLimit) {
    const found = Number(opened.info.get('primal_solution_status')) === highs.constants.solutionStatus.feasible;
    return { status: 'limit', values: found ? [...opened.getSolution().colValue] : undefined, bound };
  }
  throw new Error(`the solver ended with status ${modelStatus}`);
}

function writeModel(highs: Highs, { columns, rows }: MixedIntegerModel): Parameters<Highs['createModel']>[0] {
  const starts = new Int32Array(rows.length + 1);
  rows.forEach(({ terms }, row) => { starts[row + 1] = starts[row]! + terms.length; });
  const terms = rows.flatMap((row) => row.terms);
  const bounded = (value: number): number => (value === Number.POSITIVE_INFINITY ? highs.infinity : value === Number.NEGATIVE_INFINITY ? -highs.infinity : value);
  return {
    numCols: columns.length, numRows: rows.length,
    colCost: Float64Array.from(columns, ({ cost }) => cost),
    colLower: Float64Array.from(columns, ({ lower }) => bounded(lower)), colUpper: Float64Array.from(columns, ({ upper }) => bounded(upper)),
    rowLower: Float64Array.from(rows, ({ lower }) => bounded(lower)), rowUpper: Float64Array.from(rows, ({ upper }) => bounded(upper)),
    integrality: columns.map(({ whole }) => (whole ? highs.constants.variableType.integer : highs.constants.variableType.continuous)),
    matrix: {
      format: 'csr', numRows: rows.length, numCols: columns.length, starts,
      indices: Int32Array.from(terms, ([column]) => column), values: Float64Array.from(terms, ([, factor]) => factor),
    },
  };
}
