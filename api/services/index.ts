export type { CatalogueSnapshot } from './catalogue/catalogue-service.ts';
export type { Clock } from './clock.ts';
export { ORDER_FORMS, registerFaces, spell, type Face, type OrderForm } from './documents/index.ts';
export { editBatch } from './jobs/new-job.ts';
export type { Outcome, Refusal } from './outcome.ts';
export { attributeEdits, attributeEntry, attributeMoves, attributeOutcome } from './people/attribution.ts';
export { SESSION_DAYS, type PeopleService, type Who } from './people/people-service.ts';
export { openServices, type Services, type ServicesOptions } from './open-services.ts';
export { openSolver } from './solver/open-solver.ts';
