import { expect, it } from 'vitest';
import type { Part, StockRow } from '../../../catalog-schema/index.ts';
import { readScan } from './read-scan.ts';

const row = (partId: string, bin: string): StockRow => ({ partId, bin, onHand: 1, reserved: 0, free: 1, unitCost: 1, currency: 'EUR', seq: 1 });
const rows = [row('relay-a', 'C4'), row('relay-b', 'C4'), row('relay-c', 'D1')];
const numbers: Record<string, string[]> = { 'relay-a': ['SR 120'], 'relay-b': ['77-1'], 'relay-c': ['77.1'], other: [] };
const partOf = (id: string): Part | undefined => (numbers[id] === undefined ? undefined : { id, title: id, numbers: numbers[id].map((number) => ({ issuer: 'X', number })) } as unknown as Part);

it.each([
  ['LB1:C4', { kind: 'bin', bin: 'C4' }], ['lb1;c4', { kind: 'bin', bin: 'C4' }], ['c4', { kind: 'bin', bin: 'C4' }], ['LB1:Z9', { kind: 'bin', bin: 'Z9' }],
  ['LP1:relay-a', { kind: 'part', partId: 'relay-a' }], ['LP1:RELAY-A', { kind: 'part', partId: 'relay-a' }], ['LP1:other', { kind: 'part', partId: 'other' }], ['sr120', { kind: 'part', partId: 'relay-a' }],
  ['77-1', { kind: 'several', count: 2 }], ['Z9', { kind: 'strange' }], ['LP1:nothing', { kind: 'strange' }], ['', { kind: 'strange' }], ['-', { kind: 'strange' }],
])('%j means %j', (text, scan) => {
  expect(readScan(text, rows, partOf)).toEqual(scan);
});
