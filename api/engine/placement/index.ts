export { findPlacement, type PlacementAnswer } from './find-placement.ts';
export { patternKeyOf } from './pattern-key.ts';
