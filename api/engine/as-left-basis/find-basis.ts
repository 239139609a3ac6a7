import type { BenchRecord, Fit, KitItem, Part, Plan } from '../../../catalog-schema/index.ts';
import { writeWiring, type AsLeftBasis } from '../as-left/index.ts';
import { listPlanKit } from '../fit/index.ts';
import { rewire } from '../rewire/index.ts';

/**
 * What a checklist stands on: the part's fit as the engine finds it now, every right plan, and the kit of the chosen one.
 * @param fit of this part on this record, whatever its verdict
 * @param chosen the plan that was chosen
 */
export function findAsLeftBasis(record: BenchRecord, part: Part, fit: Fit, chosen: Plan | null): AsLeftBasis {
  const plans = fit.rewire === null ? [] : rewire(record, part).plans;
  const wiring = writeWiring(chosen);
  const plan = plans.find((each) => writeWiring(each) === wiring) ?? fit.rewire;
  return {
    partId: part.id, verdict: fit.verdict, plan: fit.rewire, plans, placement: fit.placement,
    kit: writeWiring(plan) === writeWiring(fit.rewire) ? fit.kit : exchangeKit(fit.kit, listKitOf(fit.rewire), listKitOf(plan)),
  };

  function listKitOf(each: Plan | null): KitItem[] {
    return each === null ? [] : listPlanKit(record, part, each);
  }
}

/** A kit with what one plan needs taken out and what another needs put in; like items are counted together. */
function exchangeKit(kit: readonly KitItem[], out: readonly KitItem[], into: readonly KitItem[]): KitItem[] {
  const left = new Map(kit.map((item) => [JSON.stringify([item.item, item.detail]), { ...item }]));
  for (const [items, sign] of [[out, -1], [into, 1]] as const) {
    for (const item of items) {
      const key = JSON.stringify([item.item, item.detail]);
      left.set(key, { ...item, qty: (left.get(key)?.qty ?? 0) + sign * item.qty });
    }
  }
  return [...left.values()].filter(({ qty }) => qty > 0);
}
