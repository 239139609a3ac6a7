export { identify } from './identify.ts';
export { warmUpIdentify } from './warm-up.ts';
