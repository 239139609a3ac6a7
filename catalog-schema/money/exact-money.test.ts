import fc from 'fast-check';
import { Fraction } from 'fraction.js';
import { describe, expect, it } from 'vitest';
import { convertPrice, printMinor, printUnitPrice } from './convert.ts';
import { minorDigitsOf } from './minor-unit.ts';
import { fromMinor, lineInMinor } from './round-money.ts';
import { taxInMinor } from './tax.ts';

// Beside fraction.js, which reckons with exact rationals of any size.

const CURRENCIES = ['JPY', 'EUR', 'KWD', 'CLF'] as const;
/** Rounded half-even by the library's own floor and comparison. */
function halfEven(exact: Fraction): bigint {
  const down = exact.floor();
  const over = exact.sub(down).compare(new Fraction(1, 2));
  const floor = BigInt(down.n);
  return over > 0 || (over === 0 && floor % 2n === 1n) ? floor + 1n : floor;
}
const tenThousandths = fc.integer({ min: 0, max: 10 ** 10 });
const units = fc.integer({ min: 1, max: 100_000 });

describe('money beside exact rationals', () => {
  it('a line in any currency', () => {
    fc.assert(fc.property(tenThousandths, units, fc.constantFrom(...CURRENCIES), (steps, count, currency) => {
      const exact = new Fraction(steps, 10_000).mul(count).mul(10 ** minorDigitsOf(currency));
      expect(BigInt(lineInMinor(steps / 10_000, count, currency))).toBe(halfEven(exact));
    }), { numRuns: 500, seed: 61 });
  });

  it('a tax on top of a sum, and one inside it', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 10 ** 12 }), fc.integer({ min: 0, max: 1_000_000 }), (sum, parts) => {
      const rate = new Fraction(parts, 1_000_000);
      expect(BigInt(taxInMinor(sum, parts / 10_000, false))).toBe(halfEven(rate.mul(sum)));
      expect(BigInt(taxInMinor(sum, parts / 10_000, true))).toBe(halfEven(rate.mul(sum).div(rate.add(1))));
    }), { numRuns: 500, seed: 62 });
  });

  it('a price in another currency', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 10 ** 9 }), fc.integer({ min: 1, max: 10 ** 12 }), (steps, rate) => {
      const exact = halfEven(new Fraction(steps).mul(new Fraction(rate, 100_000_000)));
      expect(convertPrice(steps / 10_000, rate / 100_000_000)).toBe(Number(exact) / 10_000);
    }), { numRuns: 500, seed: 63 });
  });

  it('an amount written out and read back is the same amount', () => {
    fc.assert(fc.property(fc.integer({ min: -(10 ** 12), max: 10 ** 12 }), fc.constantFrom(...CURRENCIES), (minor, currency) => {
      const digits = minorDigitsOf(currency);
      const written = printMinor(minor, currency);
      expect(written).toMatch(digits === 0 ? /^-?\d+$/ : new RegExp(`^-?\\d+\\.\\d{${digits}}$`));
      expect(new Fraction(written).mul(10 ** digits).equals(minor)).toBe(true);
      expect(Number(written)).toBe(fromMinor(minor, currency) + 0);
    }), { numRuns: 500, seed: 64 });
  });

  it('a unit price written out keeps its four decimals and no more', () => {
    fc.assert(fc.property(tenThousandths, fc.constantFrom(...CURRENCIES), (steps, currency) => {
      const written = printUnitPrice(steps / 10_000, currency);
      expect(new Fraction(written).equals(new Fraction(steps, 10_000))).toBe(true);
      expect((written.split('.')[1] ?? '').length).toBeGreaterThanOrEqual(minorDigitsOf(currency));
    }), { numRuns: 500, seed: 65 });
  });

  it('rounds a half cent of tax to the even cent', () => {
    expect([taxInMinor(50, 5, false), taxInMinor(150, 5, false), taxInMinor(10_500, 5, true), taxInMinor(21, 5, true)]).toEqual([2, 8, 500, 1]);
    expect([printUnitPrice(12.5, 'EUR'), printUnitPrice(0.0125, 'EUR'), printUnitPrice(120, 'JPY'), printMinor(5, 'KWD'), printMinor(-5, 'EUR')]).toEqual(['12.50', '0.0125', '120', '0.005', '-0.05']);
  });
});
