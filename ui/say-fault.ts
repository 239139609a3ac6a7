import { ServiceFault, StoreFault } from './client/index.ts';
import { words } from './words.ts';

/** What went wrong, for a person: the server's own words follow where it said any. Anything but a service's fault is the engine's. */
export function sayFault(error: unknown): string {
  if (error instanceof ServiceFault) return [words.faults[error.kind], error.detail].filter((part) => part !== '').join(' ');
  if (error instanceof StoreFault) return words.offline.troubles[error.kind];
  return `${words.faults.engine} ${error instanceof Error ? error.message : String(error)}`;
}
