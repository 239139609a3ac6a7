export { find } from './find.ts';
