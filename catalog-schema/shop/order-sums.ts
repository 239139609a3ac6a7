import { lineInMinor, taxInMinor } from '../money/index.ts';
import type { OrderedLine, OrderTerms } from './order-act.ts';
import type { TaxCategory } from './supplier.ts';

/** The tax of one kind on an order: on what sum, and how much. */
export interface TaxSum { readonly tax: TaxCategory; readonly baseMinor: number; readonly amountMinor: number }

/** What an order comes to, in whole minor units of its currency. */
export interface OrderSums {
  /** of each line, in their order */
  readonly linesMinor: readonly number[];
  readonly goodsMinor: number;
  readonly freightMinor: number;
  /** one row a kind of tax, by id; `baseMinor` is without the tax */
  readonly taxes: readonly TaxSum[];
  readonly taxMinor: number;
  /** what is to be paid: with the tax, without core charges */
  readonly totalMinor: number;
  /** comes back with the old parts; beside the total */
  readonly coresMinor: number;
  /** what is missing to the line from which freight is free; null where there is no such line, or it is reached */
  readonly toFreeFreightMinor: number | null;
  /** what is missing to the supplier's least order; 0 where nothing is */
  readonly shortMinor: number;
}

/**
 * Adds up an order. Each line is rounded half-even to the minor unit; the tax is reckoned once on the sum of its kind, freight among it, and
 * rounded half-even. Where prices have the tax in them it is taken out of the sum, and the total stays what the prices say.
 */
export function sumOrder(terms: OrderTerms, lines: readonly Pick<OrderedLine, 'unitPrice' | 'qty' | 'tax' | 'coreCharge'>[]): OrderSums {
  const { currency, pricesWithTax, freightTax } = terms;
  const linesMinor = lines.map(({ unitPrice, qty }) => lineInMinor(unitPrice, qty, currency));
  const goodsMinor = linesMinor.reduce((sum, line) => sum + line, 0);
  const isFree = lines.length === 0 || (terms.freeFreightFrom !== undefined && goodsMinor >= lineInMinor(terms.freeFreightFrom, 1, currency));
  const freightMinor = isFree ? 0 : lineInMinor(terms.freight, 1, currency);

  const sums = new Map<string, { tax: TaxCategory; minor: number }>();
  const add = (tax: TaxCategory | undefined, minor: number): void => {
    if (tax === undefined || minor === 0) return;
    const key = JSON.stringify([tax.id, tax.percent]);
    sums.set(key, { tax, minor: (sums.get(key)?.minor ?? 0) + minor });
  };
  lines.forEach(({ tax }, index) => add(tax, linesMinor[index]!));
  add(freightTax, freightMinor);
  const taxes = [...sums].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, { tax, minor }]): TaxSum => {
    const amountMinor = taxInMinor(minor, tax.percent, pricesWithTax);
    return { tax, baseMinor: pricesWithTax ? minor - amountMinor : minor, amountMinor };
  });
  const taxMinor = taxes.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  return {
    linesMinor, goodsMinor, freightMinor, taxes, taxMinor,
    totalMinor: goodsMinor + freightMinor + (pricesWithTax ? 0 : taxMinor),
    coresMinor: lines.reduce((sum, { coreCharge, qty }) => sum + (coreCharge === undefined ? 0 : lineInMinor(coreCharge, qty, currency)), 0),
    toFreeFreightMinor: terms.freeFreightFrom === undefined || isFree ? null : lineInMinor(terms.freeFreightFrom, 1, currency) - goodsMinor,
    shortMinor: terms.minOrder === undefined ? 0 : Math.max(0, lineInMinor(terms.minOrder, 1, currency) - goodsMinor),
  };
}
