import { minorDigitsOf } from './minor-unit.ts';

/** Unit prices keep up to four decimals: so many ten-thousandths make a minor unit of a currency with 0, 1, ... decimals. */
const STEPS = [10_000, 1_000, 100, 10, 1] as const;
/** Beyond what anybody owes: still a number, and so is the sum of a few of them. */
const MOST_MINOR = Number.MAX_VALUE / 64;

/**
 * What `units` cost at a unit price, in whole minor units of the currency, rounded half-even.
 * Exact: a unit price has four decimals at most, so the line is a whole number of ten-thousandths.
 */
export function lineInMinor(unitPrice: number, units: number, currency: string): number {
  const tenThousandths = Math.round(unitPrice * 10_000);
  const step = STEPS[minorDigitsOf(currency)]!;
  const product = tenThousandths * units;
  if (!Number.isFinite(product)) return MOST_MINOR;
  if (Number.isSafeInteger(product)) {
    const down = Math.floor(product / step);
    const twice = 2 * (product - down * step);
    return twice > step || (twice === step && down % 2 !== 0) ? down + 1 : down;
  }
  return Math.min(MOST_MINOR, Number(divideHalfEven(BigInt(tenThousandths) * BigInt(units), BigInt(step))));
}

/** A quotient rounded half-even to a whole number; neither is negative, `below` is above 0. */
export function divideHalfEven(above: bigint, below: bigint): bigint {
  const down = above / below;
  const twice = 2n * (above % below);
  return twice > below || (twice === below && down % 2n === 1n) ? down + 1n : down;
}

/**
 * An amount in whole minor units of the currency, rounded half-even; for amounts that come out of a computation, so that the last bits of
 * binary arithmetic do not turn a half into more or less than one.
 */
export function amountInMinor(amount: number, currency: string): number {
  const scaled = Math.min(MOST_MINOR, amount * 10 ** minorDigitsOf(currency));
  const down = Math.floor(scaled);
  const over = scaled - down - 0.5;
  if (Math.abs(over) <= 1e-9 * Math.max(1, Math.abs(scaled))) return down % 2 === 0 ? down : down + 1;
  return over < 0 ? down : down + 1;
}

/** Whole minor units as a decimal number of the currency. */
export function fromMinor(minor: number, currency: string): number {
  return minor / 10 ** minorDigitsOf(currency);
}
