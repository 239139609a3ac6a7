/**
 * Decimals of a currency's minor unit where they are not two (ISO 4217, table A.1, from memory; the test compares it with the table the
 * runtime carries). A code without a minor unit ("N.A.") is counted with two.
 */
const MINOR_DIGITS: Readonly<Record<string, number>> = {
  BIF: 0, CLP: 0, DJF: 0, GNF: 0, ISK: 0, JPY: 0, KMF: 0, KRW: 0, PYG: 0, RWF: 0, UGX: 0, UYI: 0, VND: 0, VUV: 0, XAF: 0, XOF: 0, XPF: 0,
  BHD: 3, IQD: 3, JOD: 3, KWD: 3, LYD: 3, OMR: 3, TND: 3,
  CLF: 4, UYW: 4,
};

/** ISO 4217's code for "no currency": stands where a shop has not said its own. */
export const NO_CURRENCY = 'XXX';

/** The codes whose minor unit has not two decimals. */
export const UNUSUAL_CURRENCIES: readonly string[] = Object.keys(MINOR_DIGITS);

/** Decimals of the currency's minor unit: 2 for EUR, 0 for JPY, 3 for KWD. */
export function minorDigitsOf(currency: string): number {
  return MINOR_DIGITS[currency] ?? 2;
}
