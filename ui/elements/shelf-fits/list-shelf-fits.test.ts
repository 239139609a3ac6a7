import { expect, it } from 'vitest';
import type { Fit, FitAnswer, Part, StockRow } from '../../../catalog-schema/index.ts';
import { listShelfFits } from './list-shelf-fits.ts';

const row = (partId: string, bin: string, free: number): StockRow => ({ partId, bin, onHand: free, reserved: 0, free, unitCost: 1, currency: 'EUR', seq: 1 });
const fit = (partId: string, verdict: Fit['verdict'] = 'unproven'): Fit => ({
  partId, verdict, fitProbability: 0.5, expectedCost: null, rewire: null, placement: null, kit: [],
  checks: [{ criterion: 'stud', outcome: 'pass', safety: false, needed: '', offered: '', why: '' }, { criterion: 'wiring', outcome: 'unknown', safety: true, needed: '', offered: '', why: '' }],
} as Fit);
const answer = (...fits: Fit[]): FitAnswer => ({ considered: 9, fits, measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] } as unknown as FitAnswer);
const partOf = (id: string): Part => ({ id, circuit: [{ kind: 'coil', id: 'c', between: ['s', id === 'cased' ? 'case' : 't'], nominalV: 12 }] } as unknown as Part);
const rows = [row('old', 'A1', 1), row('new', 'A2', 2), row('other', 'A3', 1), row('other', 'B3', 4), row('sold-out', 'A4', 0)];

it('has the part itself first, then what took its place, then the others as the matching has them, with what is open', () => {
  const listed = listShelfFits(answer(fit('other', 'adapt'), fit('sold-out'), fit('new'), fit('old')), rows, { partId: 'old', currentIds: ['new'] }, partOf);
  expect(listed.map(({ partId, kind, bin, free, open }) => [partId, kind, bin, free, ...open])).toEqual([
    ['old', 'same', 'A1', 1, 'wiring'], ['new', 'successor', 'A2', 2, 'wiring'], ['other', 'other', 'B3', 4, 'wiring'],
  ]);
});

it('leaves out what is not there and what the matching refuses, but for the part itself', () => {
  const listed = listShelfFits(answer(fit('other', 'no'), fit('new', 'no')), rows, { partId: 'old', currentIds: ['new'] }, partOf);
  expect(listed.map(({ partId, fit: told }) => [partId, told])).toEqual([['old', undefined]]);
});

it('of a record without a number lists what the matching has', () => {
  expect(listShelfFits(answer(fit('new', 'direct')), rows, undefined, partOf).map(({ partId, kind }) => [partId, kind])).toEqual([['new', 'other']]);
});

it('puts a part last whose coil returns through the case where that of the part in the hand does not, and says so', () => {
  const listed = listShelfFits(answer(fit('cased', 'direct'), fit('other')), [...rows, row('cased', 'F1', 1)], { partId: 'old', currentIds: [] }, partOf);
  expect(listed.map(({ partId, throughCase }) => [partId, throughCase])).toEqual([['old', false], ['other', false], ['cased', true]]);
  expect(listShelfFits(answer(fit('cased', 'direct')), [row('cased', 'F1', 1)], undefined, partOf)[0]!.throughCase).toBe(false);
});
