export { prove, type ProveOptions } from './prove.ts';
