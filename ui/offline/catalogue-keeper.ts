import type { CatalogueFile, CatalogueKeeper } from '../client/index.ts';
import type { DeviceStore } from './device-store.ts';

const NAME = 'snapshot';

/** The catalogue's file in this device's store. A full disk is told by the store itself; the page has the file all the same. */
export function createCatalogueKeeper(store: DeviceStore, now: () => Date): CatalogueKeeper {
  return {
    read: async () => {
      const kept = await store.read((database) => database.get('kept', NAME));
      return kept?.tag === undefined ? undefined : { bytes: kept.value as CatalogueFile['bytes'], tag: kept.tag };
    },
    keep: async ({ bytes, tag }) => {
      await store.write(['kept'], (writing) => writing.objectStore('kept').put({ value: bytes, tag, at: now().toISOString() }, NAME)).catch(() => {});
    },
  };
}
