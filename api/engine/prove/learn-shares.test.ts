import { describe, expect, it } from 'vitest';
import { FAULTS } from '../../../catalog-schema/index.ts';
import { FAULT_SHARES } from './fault-table.ts';
import { learnShares } from './learn-shares.ts';

const sumOf = (shares: Readonly<Record<string, number>>): number => Object.values(shares).reduce((sum, share) => sum + share, 0);

describe('how often each fault is found', () => {
  it('is the table\'s, each with its reason, while nothing was set or learned', () => {
    const { shares, used, assumptions } = learnShares({}, {});
    for (const fault of FAULTS) expect(shares[fault]).toBeCloseTo(FAULT_SHARES[fault].share, 12);
    expect(used.every(({ reason, n, source }) => reason.length > 0 && n === 0 && source === 'common practice, no source')).toBe(true);
    expect(assumptions).toEqual([]);
  });

  it('is what the shop set where it set something, in proportion to the rest', () => {
    const { shares, used } = learnShares({ 'relay-contacts': 0.89 }, {});
    expect(shares['relay-contacts']).toBeCloseTo(0.5, 12);
    expect(used.find(({ fault }) => fault === 'relay-contacts')).toMatchObject({ source: 'the shop' });
    expect(sumOf(shares)).toBeCloseTo(1, 12);
  });

  // Dirichlet with 30 jobs before: (30 x 0.11 + 9) / (30 + 10), by hand
  it('moves towards what closed jobs proved, and says how many they were', () => {
    const { shares, used, assumptions } = learnShares({}, { 'relay-contacts': 9, 'starter-drive': 1 });
    expect(shares['relay-contacts']).toBeCloseTo(0.3075, 12);
    expect(shares['battery-weak']).toBeCloseTo(30 * 0.23 / 40, 12);
    expect(used.find(({ fault }) => fault === 'relay-contacts')!.n).toBe(9);
    expect(sumOf(shares)).toBeCloseTo(1, 12);
    expect(assumptions.join()).toMatch(/30 closed jobs.*10 closed jobs beside them/);
  });
});
