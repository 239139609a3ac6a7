import type { Need, SourceAnswer } from '../../../catalog-schema/index.ts';
import { explainOrders } from './explain-orders.ts';
import type { SolveMixedInteger } from './mixed-integer.ts';
import { listSources } from './order-plan.ts';
import { listOtherPlans } from './other-plans.ts';
import { describeLeast, findLeast } from './least-orders.ts';
import { OrderSolver, type OrderLimits } from './solve-orders.ts';

/** After the least plan is found, explaining it and each plan beside it may use so much of the whole time; all must end before this share. */
const BESIDE = { choices: 0.1, others: [0.16, 0.24, 0.3] as const, end: 0.97 };

/**
 * Which part serves which need, from the shelf or from which supplier, at the least total of the contract: shelf units used, orders with
 * their packs, breaks, floors and freight, extra costs and waiting, for all needs together; beside it what each choice rests on, and the
 * plans that may be preferred to it, each with its price. Days are calendar days, but for suppliers with a calendar.
 * @param solve a solver of mixed-integer programmes; it blocks
 * @returns `optimal` where no plan costs a minor unit less, else `feasible` with a bound; `infeasible` with the plan that meets as many
 *   units as can be, and what stays open
 * @throws when the solver gives up without any plan
 */
export function planOrders(need: Need, solve: SolveMixedInteger, limits: OrderLimits): SourceAnswer {
  const solver = new OrderSolver(need, listSources(need), solve, limits);
  const least = findLeast(solver);
  const gone = solver.shareGone();
  const until = (share: number): number => Math.min(gone + share, BESIDE.end);
  const [shelfOnly, fastest, fewest] = BESIDE.others;
  return {
    ...describeLeast(need, solver.sources, least),
    ...(need.needs.length === 0 || limits.alone === true ? {} : { choices: explainOrders(solver, least, until(BESIDE.choices)), others: listOtherPlans(solver, least, [until(shelfOnly), until(fastest), until(fewest)]) }),
  };
}
