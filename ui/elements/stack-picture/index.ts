export { StackPicture } from './element.ts';
