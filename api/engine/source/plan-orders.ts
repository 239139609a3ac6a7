import { fromMinor, type Need, type SourceAnswer } from '../../../catalog-schema/index.ts';
import { addDays } from './days.ts';
import type { MixedIntegerAnswer, SolveMixedInteger } from './mixed-integer.ts';
import { writeOrderModel, type Aim, type OrderModel } from './order-model.ts';
import { costPlan, daysLate, findBroken, listSources, priceOrders, type OrderPlan, type Source } from './order-plan.ts';

/** Costs are whole minor units: what is less than one above the bound is the least there is. */
const GAP_MINOR = 0.9;
/** Solvers meet whole numbers to a tolerance; a bound may be so much above the number it stands for. */
const BOUND_SLACK = 1e-3;

export interface OrderLimits {
  /** how long the solver may look for the least cost; afterwards the best plan found is given with its bound */
  readonly seconds: number;
}

interface Solved { readonly order: OrderModel; readonly plan: OrderPlan; readonly answer: Exclude<MixedIntegerAnswer, { status: 'infeasible' }>; readonly aim: Aim }

/**
 * Which part serves which need, from the shelf or from which supplier, at the least total of the contract: shelf units used, orders with
 * their packs, breaks, floors and freight, extra costs and waiting, for all needs together. Days are calendar days.
 * @param solve a solver of mixed-integer programmes; it blocks
 * @returns `optimal` where no plan costs a minor unit less, else `feasible` with a bound; `infeasible` with the plan that meets as many
 *   units as can be, and what stays open
 * @throws when the solver gives up without any plan
 */
export function planOrders(need: Need, solve: SolveMixedInteger, { seconds }: OrderLimits): SourceAnswer {
  const sources = listSources(need);
  const solved = solveFor(need, sources, solve, seconds);
  const { plan, answer, order, aim } = solved;
  const totalMinor = costPlan(need, sources, plan);
  const boundMinor = Math.min(totalMinor, order.exact ? Math.ceil(answer.bound - BOUND_SLACK) : Math.floor(answer.bound));
  const met = countMet(need, plan);
  const open = need.needs.flatMap(({ id, qty, anyOf }, index) => (met[index] === qty ? [] : [{ needId: id, why: sayUnmet(need, sources, qty, met[index]!, anyOf) }]));
  return {
    status: open.length > 0 ? 'infeasible' : totalMinor <= boundMinor ? 'optimal' : 'feasible',
    total: fromMinor(totalMinor, need.currency), bound: fromMinor(Math.max(0, boundMinor), need.currency),
    fills: listFills(need, sources, plan),
    orders: priceOrders(need, sources, plan).map(({ supplier, lines, goodsMinor, freightMinor }) => ({
      supplierId: supplier.id, lines: lines.map(({ partId, qty, unitPrice }) => ({ partId, qty, unitPrice })),
      goods: fromMinor(goodsMinor, need.currency), freight: fromMinor(freightMinor, need.currency),
    })),
    unmet: open,
    cautions: listCautions(need, sources, plan, aim, totalMinor, boundMinor),
    assumptions: listAssumptions(need, sources, plan),
  };
}

function solveFor(need: Need, sources: readonly Source[], solve: SolveMixedInteger, seconds: number): Solved {
  const all = trySolve(need, sources, solve, seconds, { kind: 'all' });
  if (all) return all;
  const most = trySolve(need, sources, solve, seconds, { kind: 'most-units' });
  if (!most) throw new Error('the solver found no plan though an empty one is right');
  const units = most.order.unmet.reduce((sum, column) => sum + Math.round(most.answer.values![column]!), 0);
  const least = trySolve(need, sources, solve, seconds, { kind: 'left-open', units });
  if (!least) throw new Error(`the solver found no plan that leaves ${units} units open though it had one`);
  return least;
}

/** @returns undefined where no plan meets the aim */
function trySolve(need: Need, sources: readonly Source[], solve: SolveMixedInteger, seconds: number, aim: Aim): Solved | undefined {
  const order = writeOrderModel(need, sources, aim);
  const answer = solve(order.model, { seconds, gap: order.exact ? GAP_MINOR : 0 });
  if (answer.status === 'infeasible') return undefined;
  if (answer.values === undefined) throw new Error(`no plan was found in ${seconds} s`);
  const plan = order.readPlan(answer.values);
  const broken = findBroken(need, sources, plan);
  if (broken !== undefined) throw new Error(`the solver's plan is none: ${broken}`);
  return { order, plan, answer, aim };
}

function countMet(need: Need, plan: OrderPlan): number[] {
  const met = need.needs.map(() => 0);
  for (const use of plan.uses) met[use.need]! += use.qty;
  return met;
}

function listFills(need: Need, sources: readonly Source[], plan: OrderPlan): SourceAnswer['fills'] {
  const fills = new Map<string, SourceAnswer['fills'][number]>();
  for (const use of plan.uses) {
    const source = sources[use.source]!;
    const from = source.kind === 'shelf' ? 'shelf' : source.supplier.id;
    const key = JSON.stringify([use.need, source.partId, from]);
    fills.set(key, {
      needId: need.needs[use.need]!.id, partId: source.partId, from, qty: use.qty + (fills.get(key)?.qty ?? 0),
      arrives: addDays(need.today, source.leadDays), daysLate: daysLate(need, use.need, source),
    });
  }
  return [...fills.values()];
}

function sayUnmet(need: Need, sources: readonly Source[], qty: number, met: number, anyOf: Need['needs'][number]['anyOf']): string {
  const parts = new Set(anyOf.map(({ partId }) => partId));
  const names = [...parts].join(' or ');
  if (!sources.some(({ partId }) => parts.has(partId))) {
    const past = need.offers.some(({ partId }) => parts.has(partId));
    return past ? `every offer of ${names} ran out before ${need.today}, and none is free on the shelf` : `nobody offers ${names}, and none is free on the shelf`;
  }
  return `${met} of ${qty} can be had of ${names}: stock, packs, least quantities, order floors and the other needs leave no more`;
}

function listCautions(need: Need, sources: readonly Source[], plan: OrderPlan, aim: Aim, totalMinor: number, boundMinor: number): string[] {
  const cautions: string[] = [];
  if (totalMinor > boundMinor && aim.kind !== 'most-units') {
    const gap = fromMinor(totalMinor - boundMinor, need.currency);
    cautions.push(`A cheaper plan was not ruled out in the time given: it could save up to ${gap} ${need.currency}.`);
  }
  const used = new Map<number, number>();
  for (const { source, qty } of plan.uses) used.set(source, (used.get(source) ?? 0) + qty);
  for (const [index, bought] of plan.bought) {
    const source = sources[index]!;
    const over = bought - (used.get(index) ?? 0);
    if (over > 0 && source.kind === 'offer') cautions.push(`${over} of ${source.partId} from ${source.supplier.id} are bought beyond the needs: packs, a price break, the order floor or free freight make that the cheaper way.`);
  }
  return cautions;
}

function listAssumptions(need: Need, sources: readonly Source[], plan: OrderPlan): string[] {
  const own = need.suppliers.filter(({ calendar }) => calendar !== undefined).map(({ id }) => id);
  const assumptions = [own.length === 0 ? 'Days are calendar days.' : `Days are calendar days; the lead days of ${own.join(', ')} are working days of their calendars${need.now === undefined ? ', sent before the cut-off' : `, sent at ${need.now}`}.`];
  const cores = priceOrders(need, sources, plan).flatMap(({ lines }) => lines.filter(({ coreCharge }) => coreCharge > 0));
  for (const { partId, qty, coreCharge } of cores) assumptions.push(`The core charge of ${partId}, ${qty} x ${coreCharge} ${need.currency}, comes back with the old part and is not counted.`);
  const past = need.offers.filter(({ validUntil }) => validUntil !== undefined && validUntil < need.today).length;
  if (past > 0) assumptions.push(`${past} ${past === 1 ? 'offer' : 'offers'} valid until before ${need.today} ${past === 1 ? 'is' : 'are'} not used.`);
  if (need.needs.some(({ waitCostPerDay }) => waitCostPerDay === undefined)) assumptions.push('A need without waitCostPerDay costs nothing while it waits.');
  return assumptions;
}
