import fc from 'fast-check';
import { Fraction } from 'fraction.js';
import { describe, expect, it } from 'vitest';
import { minorDigitsOf } from '../money/index.ts';
import type { OrderTerms } from './order-act.ts';
import { sumOrder } from './order-sums.ts';

const terms: OrderTerms = { currency: 'EUR', freight: 9.5, freeFreightFrom: 150, minOrder: 25, pricesWithTax: false };
const full = { id: 'full', words: 'VAT', percent: 20 };
const less = { id: 'less', words: 'VAT, less', percent: 5.5 };

describe('what an order comes to', () => {
  it('is goods, freight and the tax of each kind, with core charges beside it', () => {
    const sums = sumOrder({ ...terms, freightTax: full }, [{ unitPrice: 12.345, qty: 3, tax: full, coreCharge: 4 }, { unitPrice: 10, qty: 1, tax: less }, { unitPrice: 1, qty: 2 }]);
    // 37.035 is rounded to the even cent; tax 20 % of 37.04 + 9.50, 5.5 % of 10.00
    expect(sums).toMatchObject({ linesMinor: [3704, 1000, 200], goodsMinor: 4904, freightMinor: 950, taxMinor: 931 + 55, totalMinor: 4904 + 950 + 986, coresMinor: 1200, shortMinor: 0 });
    expect(sums.taxes.map(({ tax, baseMinor, amountMinor }) => [tax.id, baseMinor, amountMinor])).toEqual([['full', 4654, 931], ['less', 1000, 55]]);
  });

  it('stays what the prices say where the tax is in them', () => {
    const sums = sumOrder({ ...terms, pricesWithTax: true, freightTax: full }, [{ unitPrice: 120, qty: 1, tax: full }]);
    expect(sums).toMatchObject({ totalMinor: 12_950, taxMinor: 2158, taxes: [{ baseMinor: 12_950 - 2158, amountMinor: 2158 }] });
  });

  it('has no freight from the supplier\'s line on, and says what is missing to the least order', () => {
    expect(sumOrder(terms, [{ unitPrice: 150, qty: 1 }]).freightMinor).toBe(0);
    expect(sumOrder(terms, [{ unitPrice: 149.99, qty: 1 }]).freightMinor).toBe(950);
    expect(sumOrder(terms, [{ unitPrice: 5.5, qty: 2 }]).shortMinor).toBe(1400);
    expect(sumOrder(terms, [])).toMatchObject({ freightMinor: 0, totalMinor: 0 });
  });

  it('is what exact rationals give, in currencies of no, two and three decimals', () => {
    const currency = fc.constantFrom('JPY', 'EUR', 'KWD');
    const price = fc.integer({ min: 0, max: 5_000_000 }).map((steps) => steps / 10_000);
    const lines = fc.array(fc.record({ unitPrice: price, qty: fc.integer({ min: 1, max: 500 }), tax: fc.constantFrom(full, less) }), { minLength: 1, maxLength: 12 });
    fc.assert(fc.property(currency, lines, price, fc.boolean(), (code, given, freight, pricesWithTax) => {
      const scale = 10 ** minorDigitsOf(code);
      const round = (exact: Fraction): Fraction => {
        const down = exact.floor();
        const over = exact.sub(down).compare(new Fraction(1, 2));
        return over > 0 || (over === 0 && BigInt(down.n) % 2n === 1n) ? down.add(1) : down;
      };
      // The decimal text is the price a person wrote: an exact rational.
      const exact = (amount: number): Fraction => new Fraction(amount.toFixed(4));
      const goods = given.map(({ unitPrice, qty }) => round(exact(unitPrice).mul(qty).mul(scale)));
      const freightMinor = round(exact(freight).mul(scale));
      const taxes = [full, less].map((kind) => {
        const sum = goods.filter((_, index) => given[index]!.tax.id === kind.id).reduce((all, each) => all.add(each), new Fraction(0)).add(kind === full ? freightMinor : 0);
        const rate = exact(kind.percent).div(100);
        return round(pricesWithTax ? sum.mul(rate).div(rate.add(1)) : sum.mul(rate));
      });
      const tax = taxes.reduce((all, each) => all.add(each), new Fraction(0));
      const total = goods.reduce((all, each) => all.add(each), freightMinor).add(pricesWithTax ? 0 : tax);
      const sums = sumOrder({ currency: code, freight, pricesWithTax, freightTax: full }, given);
      expect(total.equals(sums.totalMinor) && tax.equals(sums.taxMinor)).toBe(true);
      for (const minor of [...sums.linesMinor, sums.totalMinor, sums.taxMinor]) expect(Number.isSafeInteger(minor)).toBe(true);
    }), { numRuns: 300, seed: 66 });
  });
});
