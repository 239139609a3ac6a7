import { fromMinor, type OtherPlan } from '../../../catalog-schema/index.ts';
import type { Aim } from './order-model.ts';
import { costPlan, priceOrders, type OrderPlan } from './order-plan.ts';
import { describeOrders, type LeastOrders } from './least-orders.ts';
import { countOpen, type OrderSolver, type Solved } from './solve-orders.ts';

/**
 * The plans a person may prefer to the least one, each the cheapest of its kind: nothing ordered; each need's last unit as early as can be,
 * all needs added up; as few orders as can be. They leave as many units open as the least plan, which are as few as can be.
 * @param shares of the whole time, what each may use up
 */
export function listOtherPlans(solver: OrderSolver, least: LeastOrders, shares: readonly [number, number, number]): OtherPlan[] {
  return [
    listShelfOnly(solver, least, shares[0]),
    findBestFirst(solver, least, 'fastest', shares[1], 'arrival-days', (plan) => sumArrivalDays(solver, plan), (most) => ({ mostArrivalDays: most })),
    findBestFirst(solver, least, 'fewest-orders', shares[2], 'orders', (plan) => priceOrders(solver.need, solver.sources, plan).length, (most) => ({ mostOrders: most })),
  ];
}

function listShelfOnly(solver: OrderSolver, least: LeastOrders, share: number): OtherPlan {
  const { need, sources } = solver;
  const solved = solver.ask({ least: 'cost', open: least.openUnits, allows: ({ source }) => sources[source]!.kind === 'shelf' }, share);
  if (typeof solved === 'object') return describe(solver, least, 'shelf-only', solved, true);
  if (solved === 'no-time') return omit('shelf-only', 'There was no time left to look for it.');
  const most = solver.ask({ least: 'open-units', allows: ({ source }) => sources[source]!.kind === 'shelf' }, share);
  const units = need.needs.reduce((sum, { qty }) => sum + qty, 0);
  const open = typeof most === 'object' ? countOpen(need, most.plan) : units;
  return omit('shelf-only', `The shelf has ${units - open} of the ${units} units that fit.`);
}

/** The least of one thing, then the cheapest plan that has no more of it. */
function findBestFirst(
  solver: OrderSolver, least: LeastOrders, which: OtherPlan['which'], share: number, first: Aim['least'], count: (plan: OrderPlan) => number, atMost: (most: number) => Partial<Aim>,
): OtherPlan {
  const best = solver.secondsUntil(share) > 0 ? solver.ask({ least: first, open: least.openUnits }, share) : 'no-time';
  if (typeof best !== 'object') return omit(which, 'There was no time left to look for it.');
  const most = count(best.plan);
  const proven = best.answer.status === 'optimal';
  // The least plan itself may have no more of it: then none of this kind is cheaper.
  if (count(least.plan) <= most) return { which, plan: describeOrders(solver.need, solver.sources, least), more: 0, proven: proven && least.totalMinor <= least.boundMinor, why: '' };
  const solved = solver.ask({ least: 'cost', open: least.openUnits, ...atMost(most) }, share);
  if (typeof solved !== 'object') return omit(which, 'There was no time left to look for it.');
  return describe(solver, least, which, solved, proven);
}

function describe({ need, sources }: OrderSolver, least: LeastOrders, which: OtherPlan['which'], solved: Solved, proven: boolean): OtherPlan {
  const totalMinor = costPlan(need, sources, solved.plan);
  const boundMinor = Math.min(totalMinor, solved.bound);
  const plan = describeOrders(need, sources, { plan: solved.plan, totalMinor, boundMinor, openUnits: countOpen(need, solved.plan) });
  return { which, plan, more: fromMinor(totalMinor - least.totalMinor, need.currency), proven: proven && totalMinor <= boundMinor, why: '' };
}

function omit(which: OtherPlan['which'], why: string): OtherPlan {
  return { which, plan: null, more: null, proven: false, why };
}

function sumArrivalDays({ need, sources }: OrderSolver, plan: OrderPlan): number {
  const days = need.needs.map(() => 0);
  for (const use of plan.uses) days[use.need] = Math.max(days[use.need]!, sources[use.source]!.leadDays);
  return days.reduce((sum, each) => sum + each, 0);
}
