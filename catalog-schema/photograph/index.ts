export { findPictureType, readPhotograph, type PhotographFacts, type PictureType } from './read-photograph.ts';
