export { arrivalDate, type SentAt } from './arrival-date.ts';
export { countDays } from './days.ts';
export { ModelBuilder, type Column, type MixedIntegerAnswer, type MixedIntegerModel, type Row, type SolveMixedInteger, type Term } from './mixed-integer.ts';
export { priceAt } from './order-plan.ts';
export { describeUnit, findOneUnit, type OneUnit, type UnitChoices, type UnitTerms } from './one-unit.ts';
export { planOrders } from './plan-orders.ts';
export type { OrderLimits } from './solve-orders.ts';
export { createSupply, type Supply } from './supply.ts';
