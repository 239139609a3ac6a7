import { fromMinor, type Need, type OrderPlanAnswer, type SourceAnswer } from '../../../catalog-schema/index.ts';
import { addDays } from './days.ts';
import { costPlan, daysLate, priceOrders, type OrderPlan, type Source } from './order-plan.ts';
import { countMet, countOpen, type OrderSolver } from './solve-orders.ts';

/** A plan of the least total, whether it is proven, and how many units no plan can bring. */
export interface LeastOrders { readonly plan: OrderPlan; readonly totalMinor: number; readonly boundMinor: number; readonly openUnits: number }

/** Of the whole time, what the least total may use up; the rest is for what is said beside it. */
const SHARE = { whole: 0.72, most: 0.8, least: 0.92 } as const;

/**
 * The plan of least total; where not all needs can be met, the cheapest of those that bring as many units as can be.
 * @throws when the solver gives up without any plan
 */
export function findLeast(solver: OrderSolver): LeastOrders {
  const { need, sources } = solver;
  const rate = (plan: OrderPlan, bound: number): LeastOrders => {
    const totalMinor = costPlan(need, sources, plan);
    return { plan, totalMinor, boundMinor: Math.min(totalMinor, bound), openUnits: countOpen(need, plan) };
  };
  const all = solver.ask({ least: 'cost' }, SHARE.whole);
  if (typeof all === 'object') return rate(all.plan, all.bound);
  const most = solver.ask({ least: 'open-units' }, SHARE.most);
  if (typeof most !== 'object') throw new Error('the solver found no plan in its time though an empty one is right');
  const units = countOpen(need, most.plan);
  // In time for no plan of its own, the plan with the fewest units open stands in; nothing is known of a cheaper one.
  if (units === 0) return rate(most.plan, 0);
  const least = solver.ask({ least: 'cost', open: units }, SHARE.least);
  return typeof least === 'object' ? rate(least.plan, least.bound) : rate(most.plan, 0);
}

/** A plan as the contract has it. */
export function describeOrders(need: Need, sources: readonly Source[], { plan, totalMinor, boundMinor, openUnits }: LeastOrders): OrderPlanAnswer {
  const met = countMet(need, plan);
  return {
    status: openUnits > 0 ? 'infeasible' : totalMinor <= boundMinor ? 'optimal' : 'feasible',
    total: fromMinor(totalMinor, need.currency), bound: fromMinor(boundMinor, need.currency),
    fills: listFills(need, sources, plan),
    orders: priceOrders(need, sources, plan).map(({ supplier, lines, goodsMinor, freightMinor }) => ({
      supplierId: supplier.id, lines: lines.map(({ partId, qty, unitPrice }) => ({ partId, qty, unitPrice })),
      goods: fromMinor(goodsMinor, need.currency), freight: fromMinor(freightMinor, need.currency),
    })),
    unmet: need.needs.flatMap(({ id, qty, anyOf }, index) => (met[index] === qty ? [] : [{ needId: id, why: sayUnmet(need, sources, qty, met[index]!, anyOf) }])),
  };
}

export function describeLeast(need: Need, sources: readonly Source[], least: LeastOrders): SourceAnswer {
  return {
    ...describeOrders(need, sources, least),
    cautions: listCautions(need, sources, least),
    assumptions: listAssumptions(need, sources, least.plan),
  };
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

function listCautions(need: Need, sources: readonly Source[], { plan, totalMinor, boundMinor }: LeastOrders): string[] {
  const cautions: string[] = [];
  if (totalMinor > boundMinor) {
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
