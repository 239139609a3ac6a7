export { TerminalPicture } from './element.ts';
