import type { Need, SourceAnswer } from '../../../catalog-schema/index.ts';
import { explainOrders } from './explain-orders.ts';
import type { SolveMixedInteger } from './mixed-integer.ts';
import { listSources } from './order-plan.ts';
import { listOtherPlans } from './other-plans.ts';
import { describeLeast, findLeast } from './least-orders.ts';
import { OrderSolver, type OrderLimits } from './solve-orders.ts';

/** After the least plan is found, explaining it and each plan beside it may use so much of the whole time; all must end before this share. */
const BESIDE = { choices: 0.25, others: [0.06, 0.14, 0.2] as const, end: 0.93 };

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
  const answer = describeLeast(need, solver.sources, least);
  if (need.needs.length === 0 || limits.alone === true) return answer;
  const until = (gone: number, share: number): number => Math.min(gone + share, BESIDE.end);
  const choices = explainOrders(solver, least, until(solver.shareGone(), BESIDE.choices));
  const gone = solver.shareGone();
  const [shelfOnly, fastest, fewest] = BESIDE.others;
  return { ...answer, choices, others: listOtherPlans(solver, least, [until(gone, shelfOnly), until(gone, fastest), until(gone, fewest)]) };
}
