import { describe, expect, it } from 'vitest';
import type { Fit, Prices, Verdict } from '../../../catalog-schema/index.ts';
import { filterFits, NO_FILTER, questionOfFilter, readSupply } from './fit-filter.ts';

const fitOf = (partId: string, verdict: Verdict): Fit => ({ partId, verdict, fitProbability: null, expectedCost: null, checks: [], rewire: null, placement: null, kit: [] });
const fits = [fitOf('a', 'direct'), fitOf('b', 'adapt'), fitOf('c', 'unproven'), fitOf('d', 'no')];
const prices: Prices = {
  currency: 'EUR', today: '2026-11-25',
  shelf: [{ partId: 'a', onHand: 2, reserved: 2, unitCost: 1 }, { partId: 'b', onHand: 1, unitCost: 1 }, { partId: 'd', onHand: 1, unitCost: 1 }],
  suppliers: [{ id: 'north', freight: 1 }, { id: 'south', freight: 1 }],
  offers: [
    { supplierId: 'north', partId: 'a', price: 1, leadDays: 1, validUntil: '2026-11-25' }, { supplierId: 'north', partId: 'c', price: 1, leadDays: 1, validUntil: '2026-11-24' },
    { supplierId: 'south', partId: 'c', price: 1, leadDays: 1 },
  ],
};
const ids = (filter: Parameters<typeof filterFits>[1], given: Prices | undefined = prices): string[] => filterFits(fits, filter, readSupply(given)).map(({ partId }) => partId);

describe('the filters of the list', () => {
  it('keep the order and leave the refused out unless they are asked for', () => {
    expect(ids(NO_FILTER)).toEqual(['a', 'b', 'c']);
    expect(ids({ ...NO_FILTER, verdict: 'no' })).toEqual(['d']);
  });

  it('take a part for one of the shelf only while a unit is free', () => {
    expect(ids({ ...NO_FILTER, place: { kind: 'shelf' } })).toEqual(['b']);
  });

  it('take a part for one of a supplier up to the last day of the offer', () => {
    expect(ids({ ...NO_FILTER, place: { kind: 'supplier', id: 'north' } })).toEqual(['a']);
    expect(ids({ verdict: 'unproven', place: { kind: 'supplier', id: 'south' } })).toEqual(['c']);
  });

  it('find nothing at a place while there are no prices', () => {
    expect(filterFits(fits, { ...NO_FILTER, place: { kind: 'shelf' } }, readSupply(undefined))).toEqual([]);
    expect(filterFits(fits, { ...NO_FILTER, place: { kind: 'supplier', id: 'north' } }, readSupply(undefined))).toEqual([]);
  });

  it('say the same to the engine', () => {
    expect(questionOfFilter(NO_FILTER)).toEqual({ all: false, only: { verdicts: ['direct', 'adapt', 'unproven'] } });
    expect(questionOfFilter({ verdict: 'no', place: { kind: 'shelf' } })).toEqual({ all: true, only: { verdicts: ['no'], onShelf: true } });
    expect(questionOfFilter({ verdict: 'direct', place: { kind: 'supplier', id: 's' } })).toEqual({ all: false, only: { verdicts: ['direct'], supplierId: 's' } });
  });
});
