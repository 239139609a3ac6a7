export { fit, type FitOptions } from './fit-catalogue.ts';
export { normaliseNumber } from './marked-number.ts';
