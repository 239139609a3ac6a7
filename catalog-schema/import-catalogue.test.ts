import { expect, test } from 'vitest';
import { catalogueSchema } from './catalogue.ts';
import { importCatalogue } from './import-catalogue.ts';
import { printFault } from './input-fault.ts';
import type { Part } from './part.ts';

const makePart = (id: string, more: Partial<Part> = {}): Part =>
  ({ id, partClass: 'start-relay', title: `Part ${id}`, terminals: [], circuit: [], ...more });

const linesOf = (result: ReturnType<typeof importCatalogue>): string[] => result.faults.map((fault) => printFault(fault));

test('good rows are kept, each bad one is left out with its index and id', () => {
  const result = importCatalogue([makePart('a'), { ...makePart('b'), price: 3 }, 'nonsense', makePart('c')], []);
  expect(result.parts.map((part) => part.id)).toEqual(['a', 'c']);
  expect(linesOf(result)).toEqual([
    '[1].price (part 1, id "b"): found a key that is not known, want it left out',
    '[2] (part 2, id ""): found "nonsense", want an object',
  ]);
});

test('of two rows with one id the first is kept', () => {
  const result = importCatalogue([makePart('a', { title: 'first' }), makePart('a', { title: 'second' })], []);
  expect(result.parts.map((part) => part.title)).toEqual(['first']);
  expect(result.faults.map((fault) => fault.path)).toEqual(['[1].id']);
});

test('a successor that is not there is dropped and listed, the others stay', () => {
  const result = importCatalogue([makePart('a', { supersededBy: ['gone', 'b'] }), makePart('b', { supersededBy: ['gone'] })], []);
  expect(result.parts.map((part) => part.supersededBy)).toEqual([['b'], undefined]);
  expect(result.faults.map((fault) => fault.path)).toEqual(['[0].supersededBy[0]', '[1].supersededBy[0]']);
});

test('a successor may be a part that is there already', () => {
  const result = importCatalogue([makePart('a', { supersededBy: ['old'] })], [makePart('old')]);
  expect([result.parts.map((part) => part.id), result.imported.map((part) => part.id), result.faults]).toEqual([['old', 'a'], ['a'], []]);
});

test('a circle of supersession is opened, and what is left is a good catalogue', () => {
  for (const rows of [
    [makePart('a', { supersededBy: ['a'] })],
    [makePart('a', { supersededBy: ['b'] }), makePart('b', { supersededBy: ['a'] })],
    [makePart('a', { supersededBy: ['b', 'c'] }), makePart('b', { supersededBy: ['c', 'a'] }), makePart('c', { supersededBy: ['a', 'b'] })],
  ]) {
    const result = importCatalogue(rows, []);
    expect(result.parts).toHaveLength(rows.length);
    expect(result.faults.length).toBeGreaterThan(0);
    expect(catalogueSchema.safeParse(result.parts).success).toBe(true);
  }
});

test('a circle that closes over a part already there is opened too, and that part is stored anew', () => {
  const result = importCatalogue([makePart('new', { supersededBy: ['old'] })], [makePart('old', { supersededBy: ['new'] })]);
  expect(catalogueSchema.safeParse(result.parts).success).toBe(true);
  expect(result.faults).toHaveLength(1);
});

test('the rows given are not changed', () => {
  const rows = [makePart('a', { supersededBy: ['gone'] })];
  const before = structuredClone(rows);
  importCatalogue(rows, []);
  expect(rows).toEqual(before);
});
