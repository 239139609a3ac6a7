export { minorDigitsOf, NO_CURRENCY } from './minor-unit.ts';
export { convertPrice, printMinor, printUnitPrice } from './convert.ts';
export { amountInMinor, fromMinor, lineInMinor } from './round-money.ts';
export { taxInMinor } from './tax.ts';
