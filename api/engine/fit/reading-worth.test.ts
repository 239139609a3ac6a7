import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { entropyOf, findSaving, type ReadPart } from './reading-worth.ts';

/** A part whose misfit costs 100 and whose rest costs `base`. */
const part = (base: number, chance: number, more: Partial<ReadPart> = {}): ReadPart =>
  ({ chance, now: base + (1 - chance) * 100, ifHolds: base, ifNot: base + 100, ...more });

/** The least cost as u runs over the middles of a fine grid. */
function meanByGrid(apart: number, parts: readonly ReadPart[], cells: number): number {
  let sum = 0;
  for (let cell = 0; cell < cells; cell++) {
    const u = (cell + 0.5) / cells;
    let least = apart;
    for (const each of parts) {
      const holds = each.isOther ? u >= 1 - each.chance : u < each.chance;
      least = Math.min(least, holds ? each.ifHolds : each.ifNot);
    }
    sum += least;
  }
  return sum / cells;
}

/** Every combination of kinds that hold and do not. */
function meanByCombination(apart: number, parts: readonly ReadPart[]): number {
  const kinds = [...new Set(parts.map(({ like }) => like))];
  let mean = 0;
  for (let bits = 0; bits < 2 ** kinds.length; bits++) {
    let weight = 1;
    kinds.forEach((kind, index) => {
      const { chance } = parts.find(({ like }) => like === kind)!;
      weight *= (bits >> index) % 2 === 1 ? chance : 1 - chance;
    });
    mean += weight * Math.min(apart, ...parts.map((each) => ((bits >> kinds.indexOf(each.like)) % 2 === 1 ? each.ifHolds : each.ifNot)));
  }
  return mean;
}

const leastNow = (apart: number, parts: readonly ReadPart[]): number => Math.min(apart, ...parts.map(({ now }) => now));
// Chances on a grid of 1 in 20, so that the cells of the fine grid end where the least cost changes.
const chance = fc.integer({ min: 0, max: 20 }).map((twentieths) => twentieths / 20);
const base = fc.integer({ min: 0, max: 200 });
const apart = fc.oneof(fc.integer({ min: 0, max: 300 }), fc.constant(Number.POSITIVE_INFINITY));

describe('the saving of a reading', () => {
  it('of one measured number is what sampling it on a fine grid gives, in 500 cases', () => {
    const parts = fc.array(fc.tuple(base, chance, fc.boolean()).map(([b, c, isOther]) => part(b, c, { isOther })), { minLength: 1, maxLength: 8 });
    fc.assert(fc.property(apart, parts, (rest, read) => {
      expect(findSaving(rest, read)).toBeCloseTo(leastNow(rest, read) - meanByGrid(rest, read, 2000), 6);
    }), { numRuns: 500, seed: 20261125 });
  });

  it('that tells kinds apart is what every combination of them gives, in 500 cases', () => {
    const kinds = fc.array(fc.tuple(chance, fc.array(base, { minLength: 1, maxLength: 3 })), { minLength: 1, maxLength: 5 });
    fc.assert(fc.property(apart, kinds, (rest, drawn) => {
      const read = drawn.flatMap(([c, bases], kind) => bases.map((b) => part(b, c, { like: `kind ${kind}` })));
      expect(findSaving(rest, read)).toBeCloseTo(leastNow(rest, read) - meanByCombination(rest, read), 6);
    }), { numRuns: 500, seed: 20261125 });
  });

  it('is never negative', () => {
    const parts = fc.array(fc.tuple(base, chance, fc.option(fc.constantFrom('a', 'b'), { nil: undefined })).map(([b, c, like]) => part(b, c, { like })), { minLength: 1, maxLength: 8 });
    fc.assert(fc.property(apart, parts, (rest, read) => findSaving(rest, read) >= 0), { numRuns: 500, seed: 7 });
  });

  it('is nothing where it can change no choice', () => {
    expect(findSaving(5, [part(20, 0.5)])).toBe(0);
    expect(findSaving(Number.POSITIVE_INFINITY, [part(20, 0.5)])).toBe(0);
    expect(findSaving(Number.POSITIVE_INFINITY, [part(20, 0.5), part(30, 0.5)])).toBe(0);
  });

  it('is worth something where one of two ways has to be right', () => {
    // Now 20 + 50 either way; after it 20 or 30: 70 - 25.
    expect(findSaving(Number.POSITIVE_INFINITY, [part(20, 0.5), part(30, 0.5, { isOther: true })])).toBeCloseTo(45, 9);
  });
});

describe('the bits of a yes or no', () => {
  it.each([[0, 0], [1, 0], [0.5, 1], [0.25, 0.811278], [0.11, 0.499916]])('at a chance of %s are %s', (p, bits) => {
    // Binary entropy (Shannon 1948, from memory): H(0.25) = 2 - 0.75 log2 3; H(0.11) is near one half.
    expect(entropyOf(p)).toBeCloseTo(bits, 5);
  });
});
