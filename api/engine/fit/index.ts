export { fit } from './fit-catalogue.ts';
export type { FitOptions } from './machine.ts';
export { listPlanKit } from './wiring.ts';
export { fitSnapshot, indexSnapshot, type IndexedCatalogue } from './fit-snapshot.ts';
export { SnapshotFitter } from './snapshot-fitter.ts';
