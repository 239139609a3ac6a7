export { StatePicture } from './element.ts';
