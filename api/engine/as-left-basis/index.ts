export { findAsLeftBasis } from './find-basis.ts';
