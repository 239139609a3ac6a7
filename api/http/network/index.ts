export { openNetwork, type OpenNetwork } from './open-network.ts';
export { printConnecting } from './print-connecting.ts';
