export { createCodeClient, type CodeClient } from './code-client.ts';
export * from './as-left.ts';
export { createEngineClient, type EngineClient, type FitQuestion } from './engine-client.ts';
export { createPictureClient, type PictureClient } from './picture-client.ts';
export type { PreparedPicture } from './picture-functions.ts';
