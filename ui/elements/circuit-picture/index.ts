export { CircuitPicture } from './element.ts';
