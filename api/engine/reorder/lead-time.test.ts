import { describe, expect, it } from 'vitest';
import { learnLeadTime } from './lead-time.ts';

describe('a lead time', () => {
  it('is what the supplier states while nothing was received, with the default spread named', () => {
    const learned = learnLeadTime([], { meanDays: 10 });
    expect(learned).toMatchObject({ n: 0, meanDays: 10 });
    expect(learned.sdDays).toBeCloseTo(3, 12);
    expect(learned.assumptions.join(' ')).toContain('0.3 of the stated lead days');
    expect(learnLeadTime([], { meanDays: 1 }).sdDays).toBeCloseTo(0.7, 12);
  });

  it('is the receipts\' own mean and spread once there are many', () => {
    const days = Array.from({ length: 4000 }, (_, index) => (index % 2 === 0 ? 4 : 8));
    const learned = learnLeadTime(days, { meanDays: 20 });
    expect(learned.meanDays).toBeCloseTo(6, 1);
    expect(learned.sdDays).toBeCloseTo(2, 1);
  });

  // k0 = 2, m0 = 5, predictive variance 4 before: 2 b0 = 4 x 4 / 3; receipts 7 and 9. By hand: k = 4, m = 6.5, 2 b = 16/3 + 2 + 9 = 49/3, variance 49/3 x 5/4 / 4.
  it('weighs stated days and receipts as the conjugate rule does', () => {
    const learned = learnLeadTime([7, 9], { meanDays: 5, sdDays: 2, receipts: 2 });
    expect(learned.meanDays).toBeCloseTo(6.5, 12);
    expect(learned.sdDays ** 2).toBeCloseTo(49 / 3 * 5 / 16, 12);
  });

  it('spreads wider when what arrives is not what was stated', () => {
    expect(learnLeadTime([12, 12, 12], { meanDays: 3 }).sdDays).toBeGreaterThan(learnLeadTime([3, 3, 3], { meanDays: 3 }).sdDays);
  });
});
