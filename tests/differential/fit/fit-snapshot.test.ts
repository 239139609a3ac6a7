import { describe, expect, it } from 'vitest';
import { openSnapshot, writeSnapshot } from '../../../api/engine/snapshot/index.ts';
import { fit, fitSnapshot, indexSnapshot } from '../../../api/engine/fit/index.ts';
import { generateParts } from '../../bench/fit/generate-catalogue.ts';
import { generatePrices } from '../../bench/fit/generate-prices.ts';
import { drawRecord } from './draw-record.ts';
import { drawOptions, findDifference, fitWithoutMemory } from './compare-fits.ts';

/** The whole of it, larger: `npm run sweep:fit`. */
describe.each([{ unfriendly: false, first: 1000 }, { unfriendly: true, first: 2000 }])('fit over a snapshot of 1,000 parts, unfriendly $unfriendly', ({ unfriendly, first }) => {
  const facts = { count: 1000, seed: 101, unfriendly };
  const parts = [...generateParts(facts)];
  const prices = generatePrices(parts, { seed: 101, unfriendly });
  const opened = openSnapshot(writeSnapshot(parts));
  if (!opened.ok) throw new Error('the snapshot does not open');
  const unpriced = indexSnapshot(opened.value, undefined);
  const priced = indexSnapshot(opened.value, prices, unpriced);

  it('answers as the plain matcher does, with every filter, to the last digit', { timeout: 60_000 }, () => {
    for (let seed = first; seed < first + 12; seed++) {
      const { prices: given, ...options } = drawOptions(seed, parts, prices);
      const record = drawRecord(seed, facts);
      const found = fitSnapshot(record, given ? priced : unpriced, options);
      expect(findDifference(fit(record, parts, { ...options, prices: given }), found), `seed ${seed}`).toBeUndefined();
    }
  });

  it('answers as though nothing were remembered from one part to the next', { timeout: 60_000 }, () => {
    for (let seed = first + 100; seed < first + 103; seed++) {
      const record = drawRecord(seed, facts);
      expect(findDifference(fitWithoutMemory(record, parts, { prices, most: 20 }), fitSnapshot(record, priced, { most: 20 })), `seed ${seed}`).toBeUndefined();
    }
  });

  it('gives back every part as it was', () => {
    for (const part of parts) expect(JSON.stringify(opened.value.partAt(opened.value.rowOf(part.id)!))).toBe(JSON.stringify(part));
  });

  it('lists all that may fit where no number is given, and chosen parts that will not do', { timeout: 60_000 }, () => {
    const record = drawRecord(first + 200, facts);
    expect(findDifference(fit(record, parts, { prices }), fitSnapshot(record, priced))).toBeUndefined();
    for (const options of [{ all: true, most: 20 }, { all: true, most: 900 }, { most: 20, only: { verdicts: ['no' as const] } }]) {
      expect(findDifference(fit(record, parts, { prices, ...options }), fitSnapshot(record, priced, options)), JSON.stringify(options)).toBeUndefined();
    }
    const partIds = parts.filter((_, index) => index % 50 === 0).map(({ id }) => id);
    expect(findDifference(fit(record, parts, { prices, all: true, only: { partIds } }), fitSnapshot(record, priced, { all: true, only: { partIds } }))).toBeUndefined();
  });
});
