import { describe, expect, it } from 'vitest';
import { pricesSchema, readCatalogue, readRecord, type Part } from '../../../catalog-schema/index.ts';
import { lintCatalogue } from '../../../catalog-schema/lint/index.ts';
import { generateFamily, generateParts } from './generate-catalogue.ts';
import { generatePrices } from './generate-prices.ts';
import { generateQuery } from './generate-query.ts';
import { MISSING_SHARES } from './grids.ts';

const facts = { count: 3000, seed: 1 };
const parts = [...generateParts(facts)];
const unfriendly = [...generateParts({ ...facts, unfriendly: true })];

/** Correlation of two lists of numbers. */
function correlate(pairs: readonly (readonly [number, number])[]): number {
  const mean = (of: (pair: readonly [number, number]) => number): number => pairs.reduce((sum, pair) => sum + of(pair), 0) / pairs.length;
  const [x, y] = [mean(([a]) => a), mean(([, b]) => b)];
  const covariance = mean(([a, b]) => (a - x) * (b - y));
  return covariance / Math.sqrt(mean(([a]) => (a - x) ** 2) * mean(([, b]) => (b - y) ** 2));
}

const amps = (part: Part): number | undefined => part.circuit.flatMap((element) => (element.kind === 'contact' ? [element.inrushA] : []))[0];
const sizeAndAmps = (from: readonly Part[]): [number, number][] => from
  .flatMap((part): [number, number][] => (part.partClass === 'start-relay' && part.body && amps(part) !== undefined ? [[part.body.lengthMm, amps(part)!]] : []));

describe('the generated catalogue', () => {
  it('reads as a whole: ids, circuits, successors without a cycle', () => {
    for (const catalogue of [parts, unfriendly]) {
      const read = readCatalogue(catalogue);
      expect(read.ok ? [] : read.faults).toEqual([]);
      expect(catalogue).toHaveLength(3000);
    }
  });

  it('is the same for the same seed, and begins alike whatever its size', () => {
    expect([...generateParts(facts)]).toEqual(parts);
    expect([...generateParts({ ...facts, count: 9000 })].slice(0, 2000)).toEqual(parts.slice(0, 2000));
    expect([...generateParts({ ...facts, seed: 2 })][0]).not.toEqual(parts[0]);
  });

  it('holds every class, successors in chains, and families on one bracket', () => {
    expect(new Set(parts.map(({ partClass }) => partClass)).size).toBe(5);
    const superseded = new Map(parts.flatMap((part) => (part.supersededBy ? [[part.id, part.supersededBy]] : [])));
    expect(superseded.size).toBeGreaterThan(100);
    expect([...superseded.values()].some((next) => next.some((id) => superseded.has(id)))).toBe(true);
    expect([...superseded.values()].some((next) => next.length > 1)).toBe(true);
    const family = generateFamily(facts, 3);
    expect(new Set(family.map(({ whole }) => JSON.stringify(whole.mounting))).size).toBe(1);
    expect(new Set(family.map(({ whole }) => whole.title)).size).toBeGreaterThan(1);
  });

  it('leaves values out about as often as it says', () => {
    const share = parts.filter(({ sealing }) => sealing === undefined).length / parts.length;
    expect(Math.abs(share - MISSING_SHARES.sealing)).toBeLessThan(0.12);
  });

  it('tells strength by size in families, and nothing by anything in the unfriendly one', () => {
    expect(correlate(sizeAndAmps(parts))).toBeGreaterThan(0.6);
    expect(Math.abs(correlate(sizeAndAmps(unfriendly)))).toBeLessThan(0.1);
  });

  it('has no fault that the data lint knows', () => {
    const faults = lintCatalogue(parts.slice(0, 600), undefined).filter(({ rule }) => rule !== 'told-apart' && rule !== 'dead-number-leads-on');
    expect(faults.slice(0, 5)).toEqual([]);
  });
});

describe('generated records and prices', () => {
  it('read, with few readings as with all', () => {
    for (let seed = 0; seed < 300; seed++) {
      const read = readRecord(generateQuery(seed, { ...facts, unfriendly: seed % 2 === 1 }));
      expect(read.ok ? [] : read.faults).toEqual([]);
    }
    const fields = (readings: 'full' | 'few'): number => JSON.stringify(Array.from({ length: 50 }, (_, seed) => generateQuery(seed, facts, readings))).length;
    expect(fields('few')).toBeLessThan(fields('full') / 2);
  });

  it('read, and price most parts', () => {
    const prices = generatePrices(parts, { seed: 1 });
    expect(pricesSchema.safeParse(prices).success).toBe(true);
    const priced = new Set([...prices.offers, ...prices.shelf].map(({ partId }) => partId));
    expect(priced.size).toBeGreaterThan(0.95 * parts.length);
    expect(priced.size).toBeLessThan(parts.length);
    expect(prices.suppliers).toHaveLength(8);
  });
});
