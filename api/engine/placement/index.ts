export { findPlacement, type PlacementAnswer } from './find-placement.ts';
