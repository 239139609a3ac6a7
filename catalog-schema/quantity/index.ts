export { nearestFraction, printLength, printNumber, printQuantity } from './print-quantity.ts';
export { isOpenReading, readQuantity, type LengthUnit, type Quantity } from './read-quantity.ts';
export { CONTRACT_UNIT, type Dimension } from './unit.ts';
