import { expect, it } from 'vitest';
import type { Part, StockRow } from '../../../catalog-schema/index.ts';
import { matchRows, walkRows } from './match-rows.ts';

const row = (partId: string, bin: string): StockRow => ({ partId, bin, onHand: 1, reserved: 0, free: 1, unitCost: 1, currency: 'EUR', seq: 1 });
const rows = [row('relay-12', 'B10'), row('relay-24', 'B2'), row('starter-1', 'b 7')];
const parts: Record<string, Partial<Part>> = {
  'relay-12': { title: 'Start relay, 12 V, isolated', numbers: [{ issuer: 'X', number: 'SR 120-A' }] }, 'relay-24': { title: 'Start relay, 24 V' },
};
const found = (text: string): string[] => matchRows(rows, text, (id) => parts[id] as Part | undefined).map(({ partId }) => partId);

it('goes through the bins as a person walks', () => {
  expect(walkRows(rows, (id) => id).map(({ bin }) => bin)).toEqual(['b 7', 'B2', 'B10']);
});

it('finds a bin by its name and nothing else beside it', () => {
  expect(found('B2')).toEqual(['relay-24']);
  expect(found('B7')).toEqual(['starter-1']);
});

it.each([['sr120a', ['relay-12']], ['relay 24 v', ['relay-24']], ['START relay', ['relay-12', 'relay-24']], ['starter-1', ['starter-1']], ['pump', []], ['  ', ['relay-12', 'relay-24', 'starter-1']]])('finds %j by number, words or id', (text, ids) => {
  expect(found(text)).toEqual(ids);
});
