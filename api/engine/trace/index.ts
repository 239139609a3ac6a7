export { trace } from './trace.ts';
