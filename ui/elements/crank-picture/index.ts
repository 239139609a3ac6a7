export { CrankPicture } from './element.ts';
