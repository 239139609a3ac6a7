export { find } from './find/index.ts';
export { fit, type FitOptions } from './fit/index.ts';
export { identify } from './identify/index.ts';
export { rewire, type RewireOptions } from './rewire/index.ts';
