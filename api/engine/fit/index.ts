export { fit, type FitOptions } from './fit-catalogue.ts';
