import { divideHalfEven } from './round-money.ts';

/** A percentage keeps up to four decimals: so many parts make a whole. */
const PARTS_A_PERCENT = 10_000;
const WHOLE = BigInt(100 * PARTS_A_PERCENT);

/**
 * The tax on a sum, in whole minor units, rounded half-even once for the whole sum.
 * @param minor the sum in whole minor units: without the tax, or with it where `included`
 * @param percent the rate, with up to four decimals: 20 is a fifth on top
 */
export function taxInMinor(minor: number, percent: number, included: boolean): number {
  const rate = BigInt(Math.round(percent * PARTS_A_PERCENT));
  return Number(divideHalfEven(BigInt(minor) * rate, included ? WHOLE + rate : WHOLE));
}
