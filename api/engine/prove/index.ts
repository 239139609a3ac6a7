export { learnShares } from './learn-shares.ts';
export { prove, type ProveOptions } from './prove.ts';
