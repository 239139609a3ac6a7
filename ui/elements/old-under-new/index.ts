export { OldUnderNew } from './element.ts';
