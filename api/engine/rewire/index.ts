export { circuitKeyOf, facesKeyOf } from './circuit-shape.ts';
export { formKeyOf } from './form-key.ts';
export { createRewirer, findFirstPlan, rewire } from './rewirer.ts';
export type { FirstPlan, NeedsLug, PlanOutline, Rewirer, RewireOptions, StepCosts, WiringOutline, WiringVerdict } from './rewire-options.ts';
export { wiringFormOf } from './wiring-form.ts';
export { WiringMemory } from './wiring-memory.ts';
