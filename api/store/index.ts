export type { Db, Tx } from './database.ts';
export { openStore, type Store } from './open-store.ts';
export { listParts, putParts } from './part.repository.ts';
