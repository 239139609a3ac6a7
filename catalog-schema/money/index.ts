export { minorDigitsOf } from './minor-unit.ts';
export { amountInMinor, fromMinor, lineInMinor } from './round-money.ts';
