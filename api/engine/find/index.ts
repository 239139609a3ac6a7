export { find, Finder } from './finder.ts';
