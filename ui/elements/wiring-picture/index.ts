export { WiringPicture } from './element.ts';
