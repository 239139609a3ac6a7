import { describe, expect, it } from 'vitest';
import type { Part, ReorderAsk } from '../../../catalog-schema/index.ts';
import type { MixedIntegerModel, SolveMixedInteger } from '../source/index.ts';
import { planReorder } from './plan-reorder.ts';
import { listStandIns } from './stand-ins.ts';

/** Tries every choice: the questions here are small. */
const solve: SolveMixedInteger = ({ columns, rows }: MixedIntegerModel) => {
  let best: { values: number[]; cost: number } | undefined;
  for (let bits = 0; bits < 2 ** columns.length; bits++) {
    const values = columns.map((_column, at) => (bits >> at) & 1);
    const right = rows.every(({ lower, terms, upper }) => {
      const sum = terms.reduce((total, [at, factor]) => total + factor * values[at]!, 0);
      return sum >= lower && sum <= upper;
    });
    const cost = values.reduce((total, value, at) => total + value * columns[at]!.cost, 0);
    if (right && (best === undefined || cost < best.cost)) best = { values, cost };
  }
  return best === undefined ? { status: 'infeasible' } : { status: 'optimal', values: best.values, bound: best.cost };
};

const day = (ago: number): string => new Date(Date.parse('2026-11-25') - ago * 86_400_000).toISOString().slice(0, 10);
const everyDays = (days: number, qty = 1): { day: string; qty: number }[] => Array.from({ length: Math.floor(700 / days) }, (_, index) => ({ day: day(1 + index * days), qty }));
const part = (partId: string, more: Partial<ReorderAsk['parts'][number]> = {}): ReorderAsk['parts'][number] => ({ partId, onHand: 0, unitCost: 20, leadDays: 3, demand: everyDays(60), ...more });
const ask = (more: Partial<ReorderAsk>): ReorderAsk => ({ currency: 'EUR', today: '2026-11-25', since: day(700), parts: [part('a')], ...more });
const row = (more: Partial<ReorderAsk>) => planReorder(ask(more), solve).rows[0]!;

describe('the list of what to order again', () => {
  it('serves the stated share, and would not with one unit less', () => {
    for (const serviceLevel of [0.8, 0.9, 0.95, 0.99]) {
      const { service, serviceOneLess } = row({ serviceLevel });
      expect(service).toBeGreaterThanOrEqual(serviceLevel);
      expect(serviceOneLess).toBeLessThan(serviceLevel);
    }
  });

  it('orders what brings the position above its reorder point, in whole packs, counting what is reserved and on order', () => {
    const { reorderAt, batch } = row({});
    expect(row({ parts: [part('a', { onHand: reorderAt + 1 })] })).toMatchObject({ position: reorderAt + 1, order: 0 });
    expect(row({ parts: [part('a', { onHand: reorderAt + 1, reserved: 1 })] }).order).toBe(batch);
    expect(row({ parts: [part('a', { onHand: reorderAt + 1, reserved: 1, onOrder: 1 })] }).order).toBe(0);
    expect(row({ parts: [part('a', { pack: 5 })] }).order % 5).toBe(0);
  });

  it('keeps more where lead times scatter, and where demand comes in lots', () => {
    const steady = row({ parts: [part('a', { demand: everyDays(20), leadDays: 10, receipts: [10, 10, 10, 10, 10, 10] })] });
    expect(row({ parts: [part('a', { demand: everyDays(20), leadDays: 10, receipts: [1, 30, 2, 25, 1, 28] })] }).reorderAt).toBeGreaterThan(steady.reorderAt);
    const lots = row({ parts: [part('a', { demand: everyDays(100, 5), leadDays: 10 })] });
    expect(lots).toMatchObject({ model: 'negative-binomial' });
    expect(lots.reorderAt).toBeGreaterThan(row({ parts: [part('a', { demand: everyDays(20), leadDays: 10 })] }).reorderAt);
  });

  it('pools the demand of the parts that one stands for: one kept for three is less than three kept', () => {
    const alone = ['a', 'b', 'c'].map((id) => row({ parts: [part(id, { demand: everyDays(40) })] }));
    const pooled = row({ parts: [part('a', { demand: everyDays(40), standsFor: [{ partId: 'b', demand: everyDays(40) }, { partId: 'c', demand: everyDays(40) }] })] });
    expect(pooled.pooled.map(({ partId }) => partId)).toEqual(['b', 'c']);
    expect(pooled.perYear).toBeGreaterThan(2.7 * alone[0]!.perYear);
    expect(pooled.orderUpTo).toBeLessThan(alone.reduce((sum, { orderUpTo }) => sum + orderUpTo, 0));
  });

  it('by cost keeps more of what is dear to be without, and nothing of what costs nothing to be without', () => {
    const by = 'cost' as const;
    expect(row({ by, withoutCostPerDay: 60 }).reorderAt).toBeGreaterThanOrEqual(row({ by, withoutCostPerDay: 1 }).reorderAt);
    expect(row({ by, withoutCostPerDay: 30 }).costPerYear).toBeGreaterThan(0);
    expect(row({ by, withoutCostPerDay: 0.01 }).orderUpTo).toBeLessThanOrEqual(row({ by, withoutCostPerDay: 30 }).orderUpTo);
  });

  it('says each default it used', () => {
    expect(planReorder(ask({}), solve).assumptions.join(' ')).toMatch(/0\.95 of wanted units.*7 days.*0\.25 of the unit cost/);
  });
});

describe('topping up to free freight', () => {
  const suppliers = [{ id: 's', freight: 9, freeFreightFrom: 100 }];
  const offers = [{ supplierId: 's', partId: 'a', price: 20, leadDays: 3 }, { supplierId: 's', partId: 'b', price: 22, leadDays: 3 }];
  const topUp = (goods: number, demand: { day: string; qty: number }[], freight = 9) => planReorder(ask({
    parts: [part('a', { onHand: 9, demand }), part('b', { onHand: 40, demand: everyDays(300) })], suppliers: [{ ...suppliers[0]!, freight }], offers, drafts: [{ supplierId: 's', goods }],
  }), solve);

  it('takes the part that would soon be ordered anyway, and says what keeping it costs and what is saved', () => {
    const { topUps } = topUp(85, everyDays(10));
    expect(topUps).toMatchObject([{ supplierId: 's', freight: 9, add: [{ partId: 'a' }] }]);
    const { holding, saves } = topUps[0]!;
    expect(holding + saves).toBeCloseTo(9, 9);
    expect(saves).toBeGreaterThan(0);
  });

  it('is left where keeping costs as much as the freight, where freight is free already, and where nothing reaches the line', () => {
    expect(topUp(85, everyDays(10), 0.05)).toMatchObject({ topUps: [], notToppedUp: [{ why: expect.stringContaining('keeping more would cost') as string }] });
    expect(topUp(100, everyDays(10))).toMatchObject({ topUps: [], notToppedUp: [{ why: 'freight is free already' }] });
    expect(planReorder(ask({ suppliers, offers: [], drafts: [{ supplierId: 's', goods: 10 }] }), solve).notToppedUp).toMatchObject([{ why: 'no part of the list comes from this supplier' }]);
  });
});

describe('which stocked part stands in for one that is not kept', () => {
  const make = (id: string, more: Partial<Part> = {}): Part => ({ id, partClass: 'start-relay', title: id, terminals: [], circuit: [], ...more });
  it('is the one at the end of its successors, else one that is claimed to replace its number; a kit and a kept part have none', () => {
    const catalogue = [
      make('u', { replaces: [{ issuer: 'X', number: 'OV 31-12' }] }), make('old', { numbers: [{ issuer: 'X', number: 'ov3112' }] }),
      make('older', { supersededBy: ['middle'] }), make('middle', { supersededBy: ['new'] }), make('new'), make('kit', { supersededBy: ['new', 'u'] }), make('kept', { numbers: [{ issuer: 'X', number: 'OV 31-12' }] }),
    ];
    expect([...listStandIns(catalogue, new Set(['u', 'new', 'kept']))]).toEqual([['old', 'u'], ['older', 'new'], ['middle', 'new']]);
  });
});
