export { createRewirer, findFirstPlan, rewire } from './rewirer.ts';
export type { FirstPlan, Rewirer, RewireOptions, WiringVerdict } from './rewire-options.ts';
