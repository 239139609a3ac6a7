export { findPlacement, type PlacementAnswer } from './find-placement.ts';
export { HoleNeeds } from './hole-needs.ts';
export { patternKeyOf } from './pattern-key.ts';
