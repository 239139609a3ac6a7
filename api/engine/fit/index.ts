export { fit } from './fit-catalogue.ts';
export type { FitOptions } from './machine.ts';
