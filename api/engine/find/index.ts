export { checkDigitOf, readTradeNumber } from './check-digit.ts';
export { find, Finder } from './finder.ts';
