export { describeUnit, findOneUnit, type OneUnit, type UnitChoices, type UnitTerms } from './one-unit.ts';
export { createSupply, type Supply } from './supply.ts';
