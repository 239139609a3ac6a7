export { arrivalDate, daysToArrival, type SentAt } from './arrival-date.ts';
export type { Column, MixedIntegerAnswer, MixedIntegerModel, Row, SolveMixedInteger, Term } from './mixed-integer.ts';
export { describeUnit, findOneUnit, type OneUnit, type UnitChoices, type UnitTerms } from './one-unit.ts';
export { planOrders, type OrderLimits } from './plan-orders.ts';
export { createSupply, type Supply } from './supply.ts';
