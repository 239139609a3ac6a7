import { describe, expect, it } from 'vitest';
import { listNegativeBinomial, listPoisson, lossOf, NormalLaw, TableLaw } from './demand-law.ts';
import { costOfPolicy, findCostPolicy, findEconomicBatch, findLevel, findNewsvendor, findServicePolicy, findWholeBatch, serviceOf } from './stock-policy.ts';

// Examples of "Fundamentals of Supply Chain Theory", 2nd ed., Wiley 2019, as the test-suite of an open-source inventory library states them;
// the textbook itself was not read. Figures without another source were recomputed with SciPy 1.17.

const poisson = (mean: number): TableLaw => new TableLaw(listPoisson(mean));

describe('the economic order quantity', () => {
  it('is that of example 3.1, and of 3.8 with planned back-orders', () => {
    const plain = findEconomicBatch({ order: 8, holding: 0.225, perYear: 1300 });
    expect(plain.batch).toBeCloseTo(304.0467800264368, 9);
    expect(plain.cost).toBeCloseTo(68.41052550594829, 9);
    const owed = findEconomicBatch({ order: 8, holding: 0.225, perYear: 1300, without: 5 });
    expect(owed.batch).toBeCloseTo(310.81255515896464, 9);
    expect(owed.cost).toBeCloseTo(66.92136355097325, 9);
    const small = findEconomicBatch({ order: 12, holding: 4.5, perYear: 240 });
    expect(small.batch).toBeCloseTo(35.777, 3);
    expect(small.cost).toBeCloseTo(160.997, 3);
  });

  it('in whole units is the batch that neither neighbour betters', () => {
    for (const perYear of [0.3, 1, 2, 3, 7, 20, 240]) {
      const costs = { order: 4, holding: 5, perYear };
      const cost = (batch: number): number => costs.order * perYear / batch + costs.holding * (batch + 1) / 2;
      const best = Array.from({ length: 60 }, (_, index) => index + 1).reduce((a, b) => (cost(b) < cost(a) - 1e-12 ? b : a));
      expect(findWholeBatch(costs)).toBe(best);
    }
  });
});

describe('the loss of a standard normal variable', () => {
  // To the 1.2e-7 of the tail's own approximation.
  it.each([
    [-1.4, 1.436668142708465], [0, 0.398942280401433], [0.3, 0.26676124211721], [0.5, 0.197796557401306], [1, 0.083315470587686], [1.5, 0.029306793762605], [2, 0.00849070261683],
    [3.1, 0.000267249095223],
  ])('at %s is %s', (z, loss) => {
    expect(Math.abs(lossOf(z) - loss)).toBeLessThan(3e-7);
    expect(lossOf(-z)).toBeCloseTo(z + lossOf(z), 9);
  });
});

describe('the newsvendor', () => {
  it('with normal demand is example 4.3', () => {
    const { level, cost } = findNewsvendor(new NormalLaw(50, 8), 0.18, 0.7);
    expect(level).toBeCloseTo(56.60395592743389, 4);
    expect(cost).toBeCloseTo(1.9976051931766445, 5);
  });

  it('with Poisson demand is examples 4.3 and 4.7', () => {
    const first = findNewsvendor(poisson(50), 0.18, 0.7);
    expect(first.level).toBe(56);
    expect(first.cost).toBeCloseTo(1.797235211809178, 9);
    const second = findNewsvendor(poisson(6), 1, 4);
    expect(second.level).toBe(8);
    expect(second.cost).toBeCloseTo(3.5701069457709416, 9);
    expect(poisson(6).atMost(7)).toBeCloseTo(0.74398, 6);
    expect(poisson(6).atMost(8)).toBeCloseTo(0.847237, 6);
  });
});

describe('reorder point and batch of least cost', () => {
  const costs = { holding: 20, without: 150, order: 100, perYear: 1.5 };

  it('with Poisson demand are example 5.8', () => {
    const law = poisson(3);
    expect(findCostPolicy(law, costs)).toEqual({ reorderAt: 3, batch: 5 });
    expect(costOfPolicy(law, { reorderAt: 3, batch: 5 }, costs)).toBeCloseTo(107.92358063314975, 8);
  });

  it('are the least of all that are tried, whatever the costs', () => {
    for (const [mean, order, without] of [[0.2, 0, 40], [0.2, 3, 4000], [1.7, 12, 90], [9, 300, 60]] as const) {
      const law = new TableLaw(listNegativeBinomial(mean, 1.8));
      const given = { holding: 6, without, order, perYear: 4 };
      const found = costOfPolicy(law, findCostPolicy(law, given), given);
      for (let reorderAt = -8; reorderAt < 25; reorderAt++) for (let batch = 1; batch < 30; batch++) expect(costOfPolicy(law, { reorderAt, batch }, given)).toBeGreaterThan(found - 1e-9);
    }
  });

  it('without a cost for the order line are those of the newsvendor, one by one', () => {
    const law = poisson(3);
    const policy = findCostPolicy(law, { ...costs, order: 0 });
    expect(policy).toEqual({ reorderAt: findNewsvendor(law, 20, 150).level - 1, batch: 1 });
  });
});

describe('lead-time demand of Poisson(3)', () => {
  it.each([[2, 0.42319, 1.248935], [3, 0.647232, 0.672125], [4, 0.815263, 0.319357], [5, 0.916082, 0.134621], [6, 0.966491, 0.050703], [7, 0.988095, 0.017194]])(
    'stays at %s or below in a share of %s, and is beyond it by %s units', (level, share, short) => {
      expect(poisson(3).atMost(level)).toBeCloseTo(share, 6);
      expect(poisson(3).beyond(level)).toBeCloseTo(short, 6);
    });
});

describe('the service of a reorder point', () => {
  const demand = (perDay: number, leadDays: number, reviewDays: number) => ({ lead: poisson(perDay * leadDays), untilNext: poisson(perDay * (leadDays + reviewDays)) });

  it('one by one, and looked at all the time, is the chance that lead-time demand leaves a unit', () => {
    // A unit finds one on the shelf when fewer than the level are wanted in the lead time (Poisson arrivals see time averages).
    for (const level of [1, 2, 4, 6]) expect(serviceOf(demand(0.5, 6, 1e-6), { reorderAt: level - 1, batch: 1 })).toBeCloseTo(poisson(3).atMost(level - 1), 5);
  });

  it('is reached by the least reorder point that reaches it', () => {
    for (const batch of [1, 3, 8]) {
      for (const perDay of [0.001, 0.04, 0.3, 6]) {
        const policy = findServicePolicy(demand(perDay, 5, 7), 0.95, batch);
        expect(serviceOf(demand(perDay, 5, 7), policy)).toBeGreaterThanOrEqual(0.95);
        expect(serviceOf(demand(perDay, 5, 7), { ...policy, reorderAt: policy.reorderAt - 1 })).toBeLessThan(0.95);
      }
    }
  });

  it('asks for nothing of a part that nobody wants', () => {
    const none = { lead: new TableLaw([1]), untilNext: new TableLaw([1]) };
    expect(findServicePolicy(none, 0.99, 1)).toEqual({ reorderAt: -1, batch: 1 });
    expect(findLevel(none.lead, 0.99)).toBe(0);
  });
});

describe('a table of demand', () => {
  it('of a negative binomial has its mean and its variance, and tends to Poisson', () => {
    const list = listNegativeBinomial(7, 2.5);
    const mean = list.reduce((sum, p, units) => sum + p * units, 0);
    expect(list.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 10);
    expect(mean).toBeCloseTo(7, 9);
    expect(list.reduce((sum, p, units) => sum + p * (units - mean) ** 2, 0)).toBeCloseTo(17.5, 8);
    listNegativeBinomial(3, 1 + 1e-9).slice(0, 10).forEach((p, units) => expect(p).toBeCloseTo(listPoisson(3)[units]!, 7));
  });

  it('of large demand is right though the chance of none is too small to write', () => {
    const law = poisson(1500);
    expect(law.mean).toBeCloseTo(1500, 6);
    expect(law.atMost(1500)).toBeCloseTo(0.5069, 3);
    expect(law.atMost(1500 + 1.959964 * Math.sqrt(1500))).toBeCloseTo(0.975, 2);
  });
});
