export { identify } from './identify.ts';
