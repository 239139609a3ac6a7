import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minorDigitsOf, UNUSUAL_CURRENCIES } from './minor-unit.ts';
import { amountInMinor, fromMinor, lineInMinor } from './round-money.ts';

/** Where the runtime's table (Unicode CLDR) is not ISO 4217's: it takes none for currencies whose small coins are out of use. */
const OUT_OF_USE = ['AFN', 'ALL', 'COP', 'HUF', 'IDR', 'IQD', 'IRR', 'KPW', 'LAK', 'LBP', 'MGA', 'MMK', 'PKR', 'SLL', 'SOS', 'SYP', 'YER'];
const digitsOfRuntime = (currency: string): number | undefined => new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits;

describe('the minor unit of a currency', () => {
  it.each(UNUSUAL_CURRENCIES.filter((code) => !OUT_OF_USE.includes(code)))('of %s has the decimals of the runtime\'s own table', (currency) => {
    expect(minorDigitsOf(currency)).toBe(digitsOfRuntime(currency));
  });

  it('has two decimals in every other currency the runtime knows', () => {
    const others = Intl.supportedValuesOf('currency').filter((code) => !UNUSUAL_CURRENCIES.includes(code) && !OUT_OF_USE.includes(code));
    expect(others.length).toBeGreaterThan(100);
    expect(others.filter((currency) => digitsOfRuntime(currency) !== 2)).toEqual([]);
  });

  it('has three in the Iraqi dinar, whose coins are out of use', () => {
    expect(minorDigitsOf('IQD')).toBe(3);
  });
});

describe('a line of an order', () => {
  it.each([
    [0.125, 1, 'EUR', 12], [0.135, 1, 'EUR', 14], [0.145, 1, 'EUR', 14], [0.1251, 1, 'EUR', 13], [1.005, 1, 'EUR', 100], [1.015, 1, 'EUR', 102],
    [0.5, 1, 'JPY', 0], [1.5, 1, 'JPY', 2], [2.5, 1, 'JPY', 2], [0.0005, 1, 'KWD', 0], [0.0015, 1, 'KWD', 2], [19.99, 3, 'EUR', 5997],
    [1.2345, 2, 'CLF', 24_690],
  ])('%s x %s %s comes to %s minor units, half to even', (price, units, currency, minor) => {
    expect(lineInMinor(price, units, currency)).toBe(minor);
  });

  it('is what exact arithmetic gives, however large', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 10 ** 9 }), fc.integer({ min: 1, max: 10 ** 9 }), (tenThousandths, units) => {
      const twice = BigInt(tenThousandths) * BigInt(units) * 2n;
      const floor = twice / 200n;
      const half = twice - floor * 200n;
      const wanted = half > 100n || (half === 100n && floor % 2n === 1n) ? floor + 1n : floor;
      return lineInMinor(tenThousandths / 10_000, units, 'EUR') === Number(wanted);
    }));
  });
});

describe('an absurd amount', () => {
  it('stays a number', () => {
    for (const minor of [lineInMinor(Number.MAX_VALUE, 1, 'EUR'), lineInMinor(1e300, 1e15, 'EUR'), lineInMinor(1e20, 1e20, 'EUR'), amountInMinor(Number.MAX_VALUE, 'KWD')]) {
      expect(Number.isFinite(minor * 8)).toBe(true);
    }
  });
});

describe('a computed amount', () => {
  it('rounds a half to even though binary arithmetic missed it', () => {
    expect(amountInMinor(0.1 * 0.25, 'EUR')).toBe(2);
    expect(amountInMinor(1.005, 'EUR')).toBe(100);
    expect(amountInMinor(0.015, 'EUR')).toBe(2);
    expect(amountInMinor(0.0151, 'EUR')).toBe(2);
    expect(amountInMinor(0.0149, 'EUR')).toBe(1);
  });

  it('goes back to the decimal number a person reads', () => {
    expect([fromMinor(1999, 'EUR'), fromMinor(1999, 'JPY'), fromMinor(1999, 'KWD')]).toEqual([19.99, 1999, 1.999]);
  });
});
