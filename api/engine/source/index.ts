export { arrivalDate, daysToArrival, type SentAt } from './arrival-date.ts';
export type { Column, MixedIntegerAnswer, MixedIntegerModel, Row, SolveMixedInteger, Term } from './mixed-integer.ts';
export { describeUnit, findOneUnit, type OneUnit, type UnitChoices, type UnitTerms } from './one-unit.ts';
export { planOrders } from './plan-orders.ts';
export type { OrderLimits } from './solve-orders.ts';
export { createSupply, type Supply } from './supply.ts';
