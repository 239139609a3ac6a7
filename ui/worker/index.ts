export { createEngineClient, type EngineClient, type FitQuestion } from './engine-client.ts';
