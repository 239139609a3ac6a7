import { makeUuid, type Service } from '../client/index.ts';
import {
  createCatalogueKeeper, DATABASE_NAME, getReady, DeviceStore, EditOutbox, ErrandQueue, KeptDevice, LastingStorage, NewsChannel, OfflineService, openDatabase, PhotographQueue, Sender,
} from '../offline/index.ts';

/** Everything this page keeps and sends, put together on the browser's own stores. */
export function openDevice(remote: Service, marks: Storage | undefined) {
  const now = (): Date => new Date();
  const pause = (ms: number): Promise<void> => new Promise((resolve) => { setTimeout(resolve, ms); });
  const later = (work: () => void, ms: number): (() => void) => {
    const timer = setTimeout(work, ms);
    return () => clearTimeout(timer);
  };
  const news = new NewsChannel(typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel(DATABASE_NAME));
  const store = new DeviceStore({ open: openDatabase, newId: makeUuid, now, marks });
  const service = new OfflineService(remote, store, news, { now, pause });
  const wake = (): Promise<void> => sender.wake();
  const errands = new ErrandQueue(store, service, news, { now, pause, wake });
  const edits = new EditOutbox({ service, store, news, wake: () => void wake(), now, newId: makeUuid });
  const photographs = new PhotographQueue(store, service, news, { now, wake: () => void wake() });
  // Everything of a job leans on the job; what is ordered for it and its pictures come last.
  const sender: Sender = new Sender([errands.starts, edits, errands.others, photographs], news, { locks: navigator.locks as LockManager | undefined, later });
  const device = new KeptDevice({
    store, news, errands, photographs, edits,
    storage: new LastingStorage({ storage: navigator.storage as StorageManager | undefined }),
    ageOf: (reading) => service.ageOf(reading), wake: () => void wake(),
  });
  void device.start().then(wake);
  const catalogue = createCatalogueKeeper(store, now);
  const sparing = (): boolean => (navigator as { connection?: { saveData?: boolean } }).connection?.saveData === true;
  return { service, sender, device, edits, photographs, catalogue, getReady: () => getReady({ service, catalogue, photographs, sparing }) };
}
