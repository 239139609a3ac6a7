import type { Need } from '../../../catalog-schema/index.ts';
import { costPlan, findBroken, type OrderPlan, type Source } from './order-plan.ts';

/**
 * The cheapest plan in which one need comes whole from one source and every other use stays as it is. Lines that change are bought as they
 * were, as little as is used, or up to a break, whichever together costs least.
 * @returns undefined where that source cannot bring it so
 */
export function moveNeed(need: Need, sources: readonly Source[], plan: OrderPlan, index: number, option: number, source: number): { plan: OrderPlan; totalMinor: number } | undefined {
  const { qty } = need.needs[index]!;
  const uses = [...plan.uses.filter((use) => use.need !== index), { need: index, option, source, qty }];
  const touched = [...new Set([...plan.uses.filter((use) => use.need === index).map((use) => use.source), source])];
  let best: { plan: OrderPlan; totalMinor: number } | undefined;
  const buy = (at: number, bought: Map<number, number>): void => {
    if (at === touched.length) {
      const moved: OrderPlan = { bought, uses };
      if (findBroken(need, sources, moved) !== undefined) return;
      const totalMinor = costPlan(need, sources, moved);
      if (best === undefined || totalMinor < best.totalMinor) best = { plan: moved, totalMinor };
      return;
    }
    const line = touched[at]!;
    const used = uses.reduce((sum, use) => sum + (use.source === line ? use.qty : 0), 0);
    for (const quantity of listQuantities(sources[line]!, used, plan.bought.get(line) ?? 0)) buy(at + 1, new Map(bought).set(line, quantity));
  };
  buy(0, new Map(plan.bought));
  return best;
}

function listQuantities(source: Source, used: number, before: number): number[] {
  if (source.kind === 'shelf') return [0];
  const { pack = 1, minQty = 1, breaks = [] } = source.offer;
  const packs = (units: number): number => Math.ceil(units / pack) * pack;
  const least = used === 0 ? 0 : packs(Math.max(used, minQty));
  return [...new Set([least, ...(before >= used ? [before] : []), ...breaks.map((step) => packs(step.minQty)).filter((units) => used > 0 && units > least)])];
}
