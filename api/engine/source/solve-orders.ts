import type { Need } from '../../../catalog-schema/index.ts';
import type { MixedIntegerAnswer, SolveMixedInteger } from './mixed-integer.ts';
import { writeOrderModel, type Aim, type OrderModel } from './order-model.ts';
import { findBroken, type OrderPlan, type Source } from './order-plan.ts';

/** Costs are whole minor units: what is less than one above the bound is the least there is. */
const GAP_MINOR = 0.9;
/** Solvers meet whole numbers to a tolerance; a bound may be so much above the number it stands for. */
const BOUND_SLACK = 1e-3;
/** No question is asked with less time than this, s. */
const LEAST_SECONDS = 0.05;

export interface OrderLimits {
  /** how long the whole answer may take; afterwards the best plan found is given with its bound */
  readonly seconds: number;
  /** seconds since the question was asked; without it each solver's question may take `seconds` */
  readonly elapsed?: () => number;
  /** the least plan alone, for whoever plans many times */
  readonly alone?: boolean;
}

export interface Solved {
  readonly aim: Aim;
  readonly order: OrderModel;
  readonly plan: OrderPlan;
  /** no plan of this aim has less of what is made least: a whole number */
  readonly bound: number;
  readonly answer: Exclude<MixedIntegerAnswer, { status: 'infeasible' }>;
}

/** The questions about one need, to one solver, within one stretch of time. */
export class OrderSolver {
  readonly need: Need;
  readonly sources: readonly Source[];
  readonly #solve: SolveMixedInteger;
  readonly #limits: OrderLimits;

  constructor(need: Need, sources: readonly Source[], solve: SolveMixedInteger, limits: OrderLimits) {
    this.need = need;
    this.sources = sources;
    this.#solve = solve;
    this.#limits = limits;
  }

  /** How much of the whole time is gone; 0 where nobody counts it. */
  shareGone(): number {
    const { seconds, elapsed } = this.#limits;
    return elapsed === undefined ? 0 : elapsed() / seconds;
  }

  /** Seconds until a share of the whole time is used up; below 0 where it is. Where nobody counts it, the whole time. */
  secondsUntil(share: number): number {
    const { seconds, elapsed } = this.#limits;
    return elapsed === undefined ? seconds : seconds * share - elapsed();
  }

  /**
   * The plan that meets the aim; `share` of the whole time may be used up after it.
   * @param need another need over the same sources, its list as long
   * @returns 'none' where no plan meets the aim, 'no-time' where none was found in time
   */
  ask(aim: Aim, share: number, need: Need = this.need): Solved | 'none' | 'no-time' {
    const order = writeOrderModel(need, this.sources, aim);
    const whole = aim.least !== 'cost' || order.exact;
    const answer = this.#solve(order.model, { seconds: Math.max(LEAST_SECONDS, this.secondsUntil(share)), gap: whole ? GAP_MINOR : 0 });
    if (answer.status === 'infeasible') return 'none';
    if (answer.values === undefined) return 'no-time';
    const plan = order.readPlan(answer.values);
    const broken = findBroken(need, this.sources, plan);
    if (broken !== undefined) throw new Error(`the solver's plan is none: ${broken}`);
    const bound = Math.max(0, whole ? Math.ceil(answer.bound - BOUND_SLACK) : Math.floor(answer.bound));
    return { aim, order, plan, bound, answer };
  }
}

/** Units of each need that a plan brings. */
export function countMet(need: Need, plan: OrderPlan): number[] {
  const met = need.needs.map(() => 0);
  for (const use of plan.uses) met[use.need]! += use.qty;
  return met;
}

/** Units that a plan leaves open. */
export function countOpen(need: Need, plan: OrderPlan): number {
  const met = countMet(need, plan);
  return need.needs.reduce((sum, { qty }, index) => sum + qty - met[index]!, 0);
}
