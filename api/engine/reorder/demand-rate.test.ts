import { describe, expect, it } from 'vitest';
import { fitDispersion, learnDemand, testDispersion } from './demand-rate.ts';
import { chiSquareTail, gammaTail, logGamma } from './gamma-function.ts';

describe('the gamma function and its tails', () => {
  it('have the values of the tables', () => {
    expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 9);
    expect(logGamma(10)).toBeCloseTo(Math.log(362_880), 9);
    // Upper 5 % and 1 % points of chi-square with 1, 10 and 23 degrees of freedom (standard tables, from memory).
    expect(chiSquareTail(1, 3.841459)).toBeCloseTo(0.05, 6);
    expect(chiSquareTail(10, 18.307038)).toBeCloseTo(0.05, 6);
    expect(chiSquareTail(23, 41.63840)).toBeCloseTo(0.01, 6);
    expect(gammaTail(1, 2)).toBeCloseTo(Math.exp(-2), 12);
  });
});

describe('how demand scatters', () => {
  // Deaths by the kick of a horse in ten corps over twenty years, counted by von Bortkiewicz (1898): 109, 65, 22, 3 and 1 times 0 to 4; the
  // classic Poisson data set. Mean 0.61, variance 0.611, statistic by hand 121.59 / 0.61 = 199.3 on 199 degrees of freedom.
  const horses = [[0, 109], [1, 65], [2, 22], [3, 3], [4, 1]].flatMap(([deaths, times]) => Array.from({ length: times! }, () => deaths!));

  it('is Poisson for the deaths by horse-kick', () => {
    const test = testDispersion(horses)!;
    expect(test.statistic).toBeCloseTo(199.3, 0);
    expect(test.freedom).toBe(199);
    expect(test.p).toBeGreaterThan(0.4);
    expect(learnDemand([{ id: 'a', counts: horses }], 28).rates[0]).toMatchObject({ model: 'poisson', dispersion: 1, decidedBy: 'own' });
  });

  // Accidents of 647 women in a munitions factory, Greenwood and Yule (1920): 447, 132, 42, 21, 3, 2 times 0 to 5; mean 0.4652, variance 0.6919.
  // Maximum likelihood shape 0.8651 (the data and the fit from memory of the literature): dispersion 1 + 0.4652 / 0.8651 = 1.538.
  const accidents = [[0, 447], [1, 132], [2, 42], [3, 21], [4, 3], [5, 2]].flatMap(([count, times]) => Array.from({ length: times! }, () => count!));

  it('is negative binomial for the accidents in a munitions factory, with the shape of the literature', () => {
    expect(testDispersion(accidents)!.p).toBeLessThan(1e-6);
    expect(fitDispersion(accidents)).toBeCloseTo(1.538, 2);
    expect(learnDemand([{ id: 'a', counts: accidents }], 28).rates[0]).toMatchObject({ model: 'negative-binomial', decidedBy: 'own' });
  });

  it('is what all slow parts show together where one alone has too little to tell', () => {
    const lumpy = Array.from({ length: 60 }, (_, item) => ({ id: `p${item}`, counts: Array.from({ length: 13 }, (_none, period) => (period === item % 13 ? 4 : 0)) }));
    const { rates } = learnDemand(lumpy, 28);
    expect(rates[0]).toMatchObject({ model: 'negative-binomial', decidedBy: 'all' });
    expect(rates[0]!.dispersion).toBeCloseTo(4, 0);
  });
});

describe('the rate of a part', () => {
  it('nobody asked for yet lies between nought and the mean of the shop', () => {
    const parts = [{ id: 'none', counts: Array.from({ length: 13 }, () => 0) }, ...Array.from({ length: 12 }, (_, item) => ({ id: `p${item}`, counts: Array.from({ length: 13 }, (_none, period) => (period % (item + 1) === 0 ? 1 : 0)) }))];
    const [none] = learnDemand(parts, 28).rates;
    const mean = parts.reduce((sum, { counts }) => sum + counts.reduce((total, count) => total + count, 0), 0) / parts.length / 13 / 28;
    expect(none!.shape / none!.days).toBeGreaterThan(0);
    expect(none!.shape / none!.days).toBeLessThan(mean / 2);
  });

  it('stands on the default where a shop has few parts, and says so', () => {
    const { rates, assumptions } = learnDemand([{ id: 'a', counts: [] }], 28);
    expect(rates[0]!.shape / rates[0]!.days * 365).toBeCloseTo(2, 9);
    expect(assumptions.join(' ')).toContain('before anything is known');
  });
});
