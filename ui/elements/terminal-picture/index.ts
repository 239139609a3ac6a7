export { TerminalPicture } from './element.ts';
export type { FacePhoto } from './view.ts';
