import { amountInMinor, fromMinor, type DemandEvent, type ReorderAnswer, type ReorderAsk, type ReorderRow } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf, type SettingName } from '../settings.ts';
import { countDays, type SolveMixedInteger } from '../source/index.ts';
import { learnDemand, type DemandRate } from './demand-rate.ts';
import { findLeadDemand } from './lead-demand.ts';
import { learnLeadTime } from './lead-time.ts';
import { costOfPolicy, findCostPolicy, findServicePolicy, findWholeBatch, serviceOf, type StockPolicy } from './stock-policy.ts';
import { findTopUp, type TopUpPart } from './top-up.ts';

const DAYS_OF_YEAR = 365;

/**
 * Of each part of the shelf: how much it is asked for, at which position it is ordered again and how many, by a stated share
 * of units served at once or by what it costs to be without; and which drafted orders are worth topping up to free freight.
 * Cost: a millisecond or less for a slow mover.
 */
export function planReorder(ask: ReorderAsk, solve: SolveMixedInteger): ReorderAnswer {
  const assumptions = new Set<string>();
  const setting = (name: SettingName): number => {
    assumptions.add(describeSetting(name));
    return settingOf(name);
  };
  const { currency, by = 'service' } = ask;
  const service = ask.serviceLevel ?? (by === 'service' ? setting('serviceLevel') : 0);
  const without = ask.withoutCostPerDay ?? (by === 'cost' ? setting('withoutCostPerDay') : undefined);
  const reviewDays = ask.reviewDays ?? setting('reviewDays');
  const holdingShare = ask.holdingPerYear ?? setting('holdingPerYear');
  const order = ask.orderCost ?? setting('orderCost');
  const periodDays = setting('demandPeriodDays');

  const counted = ask.parts.map(({ partId, demand, standsFor = [] }) => (
    { id: partId, counts: countPeriods([demand, ...standsFor.map((other) => other.demand)].flat(), ask.since, ask.today, periodDays) }));
  const { rates, assumptions: learned } = learnDemand(counted, periodDays);
  for (const line of learned) assumptions.add(line);

  const topUpParts: TopUpPart[] = [];
  const rows = ask.parts.map((part, index): ReorderRow => {
    const rate = rates[index]!;
    const lead = learnLeadTime(part.receipts ?? [], { meanDays: part.leadDays });
    for (const line of lead.assumptions) assumptions.add(line);
    const demand = { lead: findLeadDemand(rate, lead, 0), untilNext: findLeadDemand(rate, lead, reviewDays) };
    const perYear = rate.shape / rate.days * DAYS_OF_YEAR;
    // A unit that costs nothing is kept for nothing; the smallest coin keeps the formulas finite.
    const holding = Math.max(holdingShare * part.unitCost, fromMinor(1, currency));
    const costs = { holding, without: (without ?? 0) * DAYS_OF_YEAR, order, perYear };
    const policy = toPacks(by === 'cost' ? findCostPolicy(demand.untilNext, costs) : findServicePolicy(demand, service, Math.ceil(findWholeBatch(costs) / (part.pack ?? 1)) * (part.pack ?? 1)), part.pack);
    const position = part.onHand - (part.reserved ?? 0) + (part.onOrder ?? 0);
    const { reorderAt, batch } = policy;
    topUpParts.push({ partId: part.partId, batch, perYear, above: position - reorderAt, holding });
    return {
      partId: part.partId, position, order: position > reorderAt ? 0 : Math.ceil((reorderAt + 1 - position) / batch) * batch, reorderAt, orderUpTo: reorderAt + batch, batch,
      service: serviceOf(demand, policy), serviceOneLess: serviceOf(demand, { reorderAt: reorderAt - 1, batch }),
      perYear, pooled: listPooled(part, rate, ask), model: rate.model, dispersion: rate.dispersion, decidedBy: rate.decidedBy, test: rate.test ?? null,
      lead: { meanDays: lead.meanDays, sdDays: lead.sdDays, receipts: lead.n },
      costPerYear: without === undefined ? null : fromMinor(amountInMinor(costOfPolicy(demand.untilNext, policy, costs), currency), currency),
    };
  });

  const topUps: ReorderAnswer['topUps'] = [];
  const notToppedUp: ReorderAnswer['notToppedUp'] = [];
  const ordered = new Set(rows.filter((row) => row.order > 0).map(({ partId }) => partId));
  for (const draft of ask.drafts ?? []) {
    const supplier = ask.suppliers!.find(({ id }) => id === draft.supplierId)!;
    const found = findTopUp(draft, supplier, ask.offers ?? [], topUpParts.filter(({ partId }) => !ordered.has(partId)), ask, solve);
    if (typeof found === 'string') notToppedUp.push({ supplierId: draft.supplierId, why: found });
    else topUps.push(found);
  }
  return { rows, topUps, notToppedUp, cautions: [], assumptions: [...assumptions] };
}

/** A batch in whole packs; the position it starts from stays. */
function toPacks(policy: StockPolicy, pack = 1): StockPolicy {
  return { ...policy, batch: Math.ceil(policy.batch / pack) * pack };
}

/** Units wanted in each whole period before today, oldest first; what lies before the first whole one is left out. */
function countPeriods(demand: readonly DemandEvent[], since: string, today: string, periodDays: number): number[] {
  const periods = Math.floor(countDays(since, today) / periodDays);
  const counts = Array.from({ length: periods }, () => 0);
  for (const { day, qty } of demand) {
    const at = periods - 1 - Math.floor((countDays(day, today) - 1) / periodDays);
    if (at >= 0 && at < periods) counts[at]! += qty;
  }
  return counts;
}

/** What of the expected demand comes from each part it stands for: by their share of what was wanted. */
function listPooled({ demand, standsFor = [] }: ReorderAsk['parts'][number], rate: DemandRate, { since, today }: ReorderAsk): ReorderRow['pooled'] {
  const count = (events: readonly DemandEvent[]): number => events.reduce((sum, { day, qty }) => (day >= since && day < today ? sum + qty : sum), 0);
  const all = count(demand) + standsFor.reduce((sum, other) => sum + count(other.demand), 0);
  return standsFor.map((other) => ({ partId: other.partId, perYear: all === 0 ? 0 : count(other.demand) / all * rate.shape / rate.days * DAYS_OF_YEAR }));
}
