import { minorDigitsOf } from './minor-unit.ts';
import { divideHalfEven } from './round-money.ts';

const PRICE_STEPS = 10_000;
/** A rate of exchange keeps up to eight decimals. */
const RATE_STEPS = 100_000_000;

/**
 * A price in another currency, with four decimals as unit prices have, rounded half-even.
 * @param rate what one of the price's currency costs in the other, with up to eight decimals
 */
export function convertPrice(price: number, rate: number): number {
  const product = BigInt(Math.round(price * PRICE_STEPS)) * BigInt(Math.round(rate * RATE_STEPS));
  return Number(divideHalfEven(product, BigInt(RATE_STEPS))) / PRICE_STEPS;
}

/** Whole minor units as the decimal text of the currency, without a sign of it: 1999 is '19.99' in EUR, '1999' in JPY, '1.999' in KWD. */
export function printMinor(minor: number, currency: string): string {
  const digits = minorDigitsOf(currency);
  const whole = BigInt(minor);
  const figures = (whole < 0n ? -whole : whole).toString().padStart(digits + 1, '0');
  const sign = whole < 0n ? '-' : '';
  return digits === 0 ? `${sign}${figures}` : `${sign}${figures.slice(0, -digits)}.${figures.slice(-digits)}`;
}

/** A unit price as decimal text: the digits of the currency at least, up to four where it has them. */
export function printUnitPrice(price: number, currency: string): string {
  const [whole = '0', rest = ''] = (Math.round(price * PRICE_STEPS) / PRICE_STEPS).toFixed(4).split('.');
  const digits = rest.replace(/0+$/, '').padEnd(minorDigitsOf(currency), '0');
  return digits === '' ? whole : `${whole}.${digits}`;
}
