export { canonicalThreadName, readThread, type Thread } from './read-thread.ts';
export { threadName } from './thread-name.ts';
