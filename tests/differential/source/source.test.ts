import { beforeAll, describe, expect, it } from 'vitest';
import type { Need, SourceAnswer } from '../../../catalog-schema/index.ts';
import { planOrders, type SolveMixedInteger } from '../../../api/engine/index.ts';
import { openSolver } from '../../../api/services/index.ts';
import { compareOrders } from './compare-orders.ts';
import { generateNeed } from './need-generator.ts';

let solve: SolveMixedInteger;
beforeAll(async () => { solve = await openSolver(); });

const plan = (more: Partial<Need>): SourceAnswer => planOrders({
  currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [{ id: 'north', freight: 0 }, { id: 'south', freight: 0 }], offers: [], needs: [], ...more,
}, solve, { seconds: 20 });
const one = (qty: number, partId = 'p', more: Partial<Need['needs'][number]> = {}): Need['needs'] => [{ id: 'n', qty, by: '2026-11-25', anyOf: [{ partId }], ...more }];

describe('the least order', () => {
  it('costs what trying everything finds, to the minor unit, in 60 seeded problems', () => {
    const wrong = Array.from({ length: 60 }, (_, index) => 90_000 + index).flatMap((seed) => {
      const need = generateNeed(seed);
      const differences = compareOrders(need, planOrders(need, solve, { seconds: 20 }));
      return differences.length === 0 ? [] : [`seed ${seed}: ${differences.join('; ')}`];
    });
    expect(wrong).toEqual([]);
  }, 60_000);

  it('is nothing where nothing is needed', () => {
    expect(plan({})).toMatchObject({ status: 'optimal', total: 0, bound: 0, fills: [], orders: [], unmet: [] });
  });

  it('takes a part that is dearer where one freight then serves both needs', () => {
    const answer = plan({
      suppliers: [{ id: 'north', freight: 8 }, { id: 'south', freight: 8 }],
      offers: [{ supplierId: 'north', partId: 'a', price: 10, leadDays: 1 }, { supplierId: 'south', partId: 'b', price: 10, leadDays: 1 }, { supplierId: 'north', partId: 'b2', price: 15, leadDays: 1 }],
      needs: [{ id: 'n1', qty: 1, by: '2026-12-01', anyOf: [{ partId: 'a' }] }, { id: 'n2', qty: 1, by: '2026-12-01', anyOf: [{ partId: 'b' }, { partId: 'b2' }] }],
    });
    expect(answer).toMatchObject({ status: 'optimal', total: 33, orders: [{ supplierId: 'north', goods: 25, freight: 8 }] });
  });

  it('rounds each line half-even with prices of four decimals, below and above the size that is rounded by hand', () => {
    expect(plan({ offers: [{ supplierId: 'north', partId: 'p', price: 0.125, leadDays: 0 }], needs: one(1) }).total).toBe(0.12);
    expect(plan({ offers: [{ supplierId: 'north', partId: 'p', price: 0.125, leadDays: 0 }], needs: one(3) }).total).toBe(0.38);
    expect(plan({ offers: [{ supplierId: 'north', partId: 'p', price: 0.1251, leadDays: 0 }], needs: one(1001) })).toMatchObject({ total: 125.23 });
  });

  it('counts waiting from the day it is needed to the last unit, and says how late each is', () => {
    const answer = plan({
      offers: [{ supplierId: 'north', partId: 'p', price: 5, leadDays: 3, inStock: 1 }, { supplierId: 'south', partId: 'p', price: 4.5, leadDays: 6 }],
      needs: one(2, 'p', { by: '2026-11-26', waitCostPerDay: 2 }),
    });
    expect(answer).toMatchObject({ total: 19, fills: [{ from: 'south', qty: 2, arrives: '2026-12-01', daysLate: 5 }] });
  });

  it('waits by the calendar of a supplier that has one: working days, and the cut-off', () => {
    const calendar = { cutOff: '14:00', workDays: [1, 2, 3, 4, 5] };
    const need = { suppliers: [{ id: 'north', freight: 0, calendar }, { id: 'south', freight: 0 }], needs: one(1, 'p', { waitCostPerDay: 1 }),
      offers: [{ supplierId: 'north', partId: 'p', price: 5, leadDays: 2 }, { supplierId: 'south', partId: 'p', price: 5, leadDays: 4 }] };
    expect(plan({ ...need, now: '13:00' })).toMatchObject({ total: 7, fills: [{ from: 'north', arrives: '2026-11-27' }] });
    expect(plan({ ...need, now: '14:00' })).toMatchObject({ total: 9, fills: [{ from: 'south', arrives: '2026-11-29' }] });
    expect(plan({ ...need, now: '14:00' }).assumptions[0]).toContain('working days');
  });

  it('restocks the shelf from suppliers, while a job takes what lies there', () => {
    const answer = plan({
      shelf: [{ partId: 'p', onHand: 2, unitCost: 5 }], offers: [{ supplierId: 'north', partId: 'p', price: 6, leadDays: 2 }],
      needs: [{ id: 'shelf', qty: 1, by: '2026-11-25', restock: true, anyOf: [{ partId: 'p' }] }, ...one(1)],
    });
    expect(answer).toMatchObject({ status: 'optimal', total: 11, fills: [{ needId: 'shelf', from: 'north' }, { needId: 'n', from: 'shelf' }] });
    expect(answer.choices).toMatchObject([{ needId: 'shelf', instead: null }, { needId: 'n', instead: { from: 'north', more: 1 } }]);
  });

  it('says so when it buys more than is needed', () => {
    const answer = plan({ offers: [{ supplierId: 'north', partId: 'p', price: 5, leadDays: 0, breaks: [{ minQty: 4, price: 1 }] }], needs: one(1) });
    expect(answer).toMatchObject({ total: 4, orders: [{ lines: [{ qty: 4, unitPrice: 1 }] }] });
    expect(answer.cautions.join(' ')).toContain('3 of p from north are bought beyond the needs');
  });

  it('shows a core charge and does not count it', () => {
    const answer = plan({ offers: [{ supplierId: 'north', partId: 'p', price: 5, leadDays: 0, coreCharge: 12 }], needs: one(1) });
    expect(answer.total).toBe(5);
    expect(answer.assumptions.join(' ')).toContain('core charge of p, 1 x 12 EUR');
  });
});

describe('what cannot be had', () => {
  it('stays open and is said, and as many units as can be are met at least cost', () => {
    const answer = plan({
      offers: [{ supplierId: 'north', partId: 'p', price: 9, leadDays: 2, inStock: 2 }, { supplierId: 'south', partId: 'p', price: 4, leadDays: 2, inStock: 1 }],
      needs: [...one(5), { id: 'm', qty: 1, by: '2026-11-25', anyOf: [{ partId: 'q' }] }],
    });
    expect(answer).toMatchObject({ status: 'infeasible', total: 22, unmet: [{ needId: 'n' }, { needId: 'm', why: 'nobody offers q, and none is free on the shelf' }] });
    expect(answer.unmet[0]!.why).toContain('3 of 5');
  });

  it('is told from what ran out', () => {
    const answer = plan({ offers: [{ supplierId: 'north', partId: 'p', price: 9, leadDays: 2, validUntil: '2026-11-24' }], needs: one(1) });
    expect(answer.unmet).toEqual([{ needId: 'n', why: 'every offer of p ran out before 2026-11-25, and none is free on the shelf' }]);
  });
});

describe('a solver that runs out of time', () => {
  it('gives its plan with the bound it has, as feasible', () => {
    const halfway: SolveMixedInteger = (model, limits) => {
      const answer = solve(model, limits);
      return answer.status === 'optimal' ? { status: 'limit', values: answer.values, bound: answer.bound - 150 } : answer;
    };
    const need: Need = { currency: 'EUR', today: '2026-11-25', shelf: [], suppliers: [{ id: 'north', freight: 0 }], offers: [{ supplierId: 'north', partId: 'p', price: 5, leadDays: 0 }], needs: one(1) };
    expect(planOrders(need, halfway, { seconds: 20 })).toMatchObject({ status: 'feasible', total: 5, bound: 3.5 });
  });
});
