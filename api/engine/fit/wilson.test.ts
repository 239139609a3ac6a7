import { describe, expect, it } from 'vitest';
import { wilsonInterval } from './wilson.ts';

// 95 % Wilson score interval, z = 1.959963984540054: Wilson, J. American Statistical Association 22 (1927) 209-212 (volume and pages from
// memory). The values were recomputed apart, in Python, each end checked to satisfy |p - q| / sqrt(q (1 - q) / n) = z.
describe('the Wilson score interval', () => {
  it.each([
    [0, 1, 0, 0.793451], [0, 10, 0, 0.277533], [1, 10, 0.017876, 0.404150], [4, 20, 0.080658, 0.416017], [45, 50, 0.786398, 0.956524], [10, 10, 0.722467, 1],
  ])('of %s in %s is %s to %s', (held, tried, low, high) => {
    const found = wilsonInterval(held, tried);
    expect(found.low).toBeCloseTo(low, 6);
    expect(found.high).toBeCloseTo(high, 6);
  });

  it('has ends from which what was seen lies just 1.96 standard errors away', () => {
    for (const [held, tried] of [[3, 7], [60, 61], [500, 1000]] as const) {
      for (const q of Object.values(wilsonInterval(held, tried))) {
        expect(Math.abs(held / tried - q) / Math.sqrt((q * (1 - q)) / tried)).toBeCloseTo(1.959963984540054, 9);
      }
    }
  });

  it('is everything where nothing was tried', () => {
    expect(wilsonInterval(0, 0)).toEqual({ low: 0, high: 1 });
  });
});
