export { createEngineClient, type EngineClient } from './engine-client.ts';
