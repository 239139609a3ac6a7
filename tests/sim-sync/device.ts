import { deleteDB } from 'idb';
import type { JobState } from '../../catalog-schema/index.ts';
import { createFetchService, JobSheet, type Act, type ActKeeper, type Service } from '../../ui/client/index.ts';
import { DeviceStore, EditOutbox, NewsChannel, OfflineService, openDatabase, type Database } from '../../ui/offline/index.ts';

/** Given each act in the moment it is made. */
export type Witness = (device: SimDevice, page: SimPage, act: Act) => void;

export interface DeviceWorld {
  readonly newId: () => string;
  readonly now: () => Date;
  readonly witness: Witness;
}

/** One open page of a device: the product's own service, store, outbox and sheet. */
export class SimPage {
  readonly name: string;
  readonly service: Service;
  readonly outbox: EditOutbox;
  sheet!: JobSheet;
  readonly #databases: Database[];

  private constructor(name: string, service: Service, outbox: EditOutbox, databases: Database[]) {
    this.name = name;
    this.service = service;
    this.outbox = outbox;
    this.#databases = databases;
  }

  static async open(device: SimDevice, name: string, world: DeviceWorld, job: JobState): Promise<SimPage> {
    const databases: Database[] = [];
    const store = new DeviceStore({
      open: async (news) => {
        const database = await openDatabase(news, device.name);
        databases.push(database);
        return database;
      },
      newId: world.newId, now: world.now, marks: undefined,
    });
    await store.start();
    const service = new OfflineService(createFetchService(`http://${name}.test`), store, device.news, { now: world.now, pause: () => new Promise(() => {}) });
    // Nothing is sent by itself: the simulation says when.
    const outbox = new EditOutbox({ service, store, news: device.news, wake: () => {}, now: world.now, newId: world.newId });
    const page = new SimPage(name, service, outbox, databases);
    const keeper: ActKeeper = {
      get device() { return outbox.device; }, get reach() { return outbox.reach; },
      read: (jobId) => outbox.read(jobId),
      keep: (act) => { world.witness(device, page, act); return device.busy(outbox.keep(act)); },
      replace: (jobId, actId, instead) => {
        if (instead !== undefined) world.witness(device, page, instead);
        return device.busy(outbox.replace(jobId, actId, instead));
      },
      sendNow: () => {}, follow: (jobId, hear) => outbox.follow(jobId, hear),
    };
    const { state, acts } = await outbox.read(job.id);
    page.sheet = new JobSheet(state ?? job, keeper, { now: world.now, newId: world.newId, author: () => device.name }, acts);
    return page;
  }

  close(): void {
    this.sheet.close();
    for (const database of this.#databases) database.close();
  }
}

/** A device: a store that outlasts its pages, and one or two pages. */
export class SimDevice {
  readonly name: string;
  readonly news = new NewsChannel(undefined);
  pages: SimPage[] = [];
  #world: DeviceWorld;
  #job: JobState;
  #opened = 0;
  #open: Promise<unknown>[] = [];

  constructor(name: string, world: DeviceWorld, job: JobState) {
    this.name = name;
    this.#world = world;
    this.#job = job;
  }

  async openPage(): Promise<SimPage> {
    const page = await SimPage.open(this, `${this.name}-p${this.#opened += 1}`, this.#world, this.#job);
    this.pages.push(page);
    return page;
  }

  /** Closes every page at once, whatever it was at, and opens the device anew. */
  async restart(): Promise<void> {
    for (const page of this.pages.splice(0)) page.close();
    await this.openPage();
  }

  busy<T>(work: Promise<T>): Promise<T> {
    this.#open.push(work);
    return work;
  }

  /** Until the store has all that the pages gave it, and the pages have read what came of it. */
  async settle(): Promise<void> {
    await Promise.all(this.#open.splice(0));
    for (let turn = 0; turn < 4; turn++) await new Promise((resolve) => { setImmediate(resolve); });
    await Promise.all(this.pages.map((page) => page.outbox.read(this.#job.id)));
    await new Promise((resolve) => { setImmediate(resolve); });
  }

  async remove(): Promise<void> {
    for (const page of this.pages.splice(0)) page.close();
    await deleteDB(this.name);
  }
}
