import type { JobState, OrderLine, PartOutcome, Prices, Reservation, ShelfRow, StockRow } from '../../catalog-schema/index.ts';
import { ServiceFault, type Act, type Service } from '../client/index.ts';
import type { DeviceStore } from './device-store.ts';
import type { NewsChannel } from './news.ts';

export interface ReadingWorld {
  readonly now: () => Date;
  /** resolves after so many ms */
  readonly pause: (ms: number) => Promise<void>;
}

/** How long a reading waits for the server where an older answer is at hand, ms. */
const PATIENCE_MS = 3_000;

type Reading = 'prices' | 'shelf' | 'stock' | 'history' | 'replacements' | 'reservations' | 'order-lines' | 'outcomes' | 'fault-shares' | 'orders' | 'suppliers' | 'shop' | `order ${string}` | `offers ${string}`;

/**
 * The service with a memory: what is read is kept on this device, and answered from there when the server is not reached. What changes
 * something goes straight through: what has to outlive a missing network waits in the queues instead.
 */
export class OfflineService implements Service {
  #service: Service;
  #store: DeviceStore;
  #news: NewsChannel;
  #world: ReadingWorld;
  #ages = new Map<string, string>();

  constructor(service: Service, store: DeviceStore, news: NewsChannel, world: ReadingWorld) {
    this.#service = service;
    this.#store = store;
    this.#news = news;
    this.#world = world;
  }

  /** Since when the last answer of this name is old, ISO 8601; undefined where it came from the server. */
  ageOf(name: string): string | undefined { return this.#ages.get(name); }

  readonly startJob: Service['startJob'] = (start) => this.#service.startJob(start);
  readonly reserve: Service['reserve'] = (request) => this.#service.reserve(request);
  readonly releaseReservation: Service['releaseReservation'] = (id) => this.#service.releaseReservation(id);
  readonly recordMoves: Service['recordMoves'] = (moves) => this.#service.recordMoves(moves);
  readonly readMoves: Service['readMoves'] = (partId, signal) => this.#service.readMoves(partId, signal);
  readonly draftOrderLine: Service['draftOrderLine'] = (request) => this.#service.draftOrderLine(request);
  // A plan hangs on what everybody does: an old one is not shown.
  readonly readPlan: Service['readPlan'] = (withShelf, signal) => this.#service.readPlan(withShelf, signal);
  readonly acceptPlan: Service['acceptPlan'] = (acceptance) => this.#service.acceptPlan(acceptance);
  readonly readReorder: Service['readReorder'] = (wish, signal) => this.#service.readReorder(wish, signal);
  readonly draftOrder: Service['draftOrder'] = (draft) => this.#service.draftOrder(draft);
  readonly actOnOrder: Service['actOnOrder'] = (id, acts) => this.#service.actOnOrder(id, acts);
  readonly writeSupplier: Service['writeSupplier'] = (edit) => this.#service.writeSupplier(edit);
  readonly writeOffer: Service['writeOffer'] = (id, edit) => this.#service.writeOffer(id, edit);
  readonly writeShopCard: Service['writeShopCard'] = (edit) => this.#service.writeShopCard(edit);
  readonly writeFaultShares: Service['writeFaultShares'] = (edit) => this.#service.writeFaultShares(edit);
  readonly reportOutcome: Service['reportOutcome'] = (report) => this.#service.reportOutcome(report);
  readonly beginUpload: Service['beginUpload'] = (jobId, picture) => this.#service.beginUpload(jobId, picture);
  readonly askUpload: Service['askUpload'] = (jobId, hash) => this.#service.askUpload(jobId, hash);
  readonly appendUpload: Service['appendUpload'] = (jobId, hash, piece) => this.#service.appendUpload(jobId, hash, piece);
  readonly readPhotograph: Service['readPhotograph'] = (jobId, hash, signal) => this.#service.readPhotograph(jobId, hash, signal);
  readonly readCatalogue: Service['readCatalogue'] = (signal) => this.#service.readCatalogue(signal);
  readonly readSnapshot: Service['readSnapshot'] = (knownTag, signal) => this.#service.readSnapshot(knownTag, signal);
  readonly postEdits: Service['postEdits'] = (id, edits) => this.#service.postEdits(id, edits);

  /** Every job, those begun here with them, as this device has it; the one changed last first. */
  async listJobs(signal?: AbortSignal): Promise<JobState[]> {
    const local = this.#store.read(async (database) => {
      const reading = database.transaction(['jobs', 'edits']);
      const [jobs, acts] = await Promise.all([reading.objectStore('jobs').getAll(), reading.objectStore('edits').getAll()]);
      return { jobs, acts };
    });
    const begunHere = this.#begunHere();
    const jobs = await this.#answer('jobs', local.then((here) => (here === undefined || here.jobs.length === 0 ? undefined : { value: here.jobs, at: undefined })),
      () => this.#service.listJobs(signal), async (fresh, kept = []) => {
        const known = new Map(kept.map((job) => [job.id, job]));
        await this.#keepJobs(fresh.filter((job) => isNewer(job, known.get(job.id))));
      }, signal);
    const { jobs: kept, acts } = await local ?? { jobs: [], acts: [] };
    const here = new Set(jobs.map((job) => job.id));
    const begun = new Set((await begunHere).filter((id) => !here.has(id)));
    const listed = await layOverAll([...jobs, ...kept.filter((job) => begun.has(job.id))], acts);
    return listed.toSorted((a, b) => (a.changedAt < b.changedAt ? 1 : a.changedAt > b.changedAt ? -1 : 0));
  }

  async readJob(id: string, signal?: AbortSignal): Promise<JobState> {
    const kept = this.#store.read((database) => database.get('jobs', id));
    // The server cannot know a job that waits to be sent: no need to ask.
    if ((await this.#begunHere()).includes(id)) {
      const begun = await kept;
      if (begun !== undefined) return begun;
    }
    return this.#answer(`job ${id}`, kept.then((value) => value && { value, at: undefined }), () => this.#service.readJob(id, signal),
      (fresh, older) => this.#keepJobs(isNewer(fresh, older) ? [fresh] : []), signal);
  }

  async readPrices(signal?: AbortSignal): Promise<Prices> {
    const prices = await this.#read<Prices>('prices', () => this.#service.readPrices(signal), signal);
    if (this.ageOf('prices') === undefined) return prices;
    // Offers run out and days of waiting count from today, not from the day the prices were read.
    const today = writeDay(this.#world.now());
    return today > prices.today ? { ...prices, today } : prices;
  }

  readShelf(signal?: AbortSignal): Promise<ShelfRow[]> { return this.#read('shelf', () => this.#service.readShelf(signal), signal); }
  readStock(signal?: AbortSignal): Promise<StockRow[]> { return this.#read('stock', () => this.#service.readStock(signal), signal); }
  readFaultShares(signal?: AbortSignal): ReturnType<Service['readFaultShares']> { return this.#read('fault-shares', () => this.#service.readFaultShares(signal), signal); }
  readReplacements(signal?: AbortSignal): ReturnType<Service['readReplacements']> { return this.#read('replacements', () => this.#service.readReplacements(signal), signal); }
  readHistory(signal?: AbortSignal): ReturnType<Service['readHistory']> { return this.#read('history', () => this.#service.readHistory(signal), signal); }

  listOrders(signal?: AbortSignal): ReturnType<Service['listOrders']> { return this.#read('orders', () => this.#service.listOrders(signal), signal); }
  readOrder(id: string, signal?: AbortSignal): ReturnType<Service['readOrder']> { return this.#read(`order ${id}`, () => this.#service.readOrder(id, signal), signal); }
  listSuppliers(signal?: AbortSignal): ReturnType<Service['listSuppliers']> { return this.#read('suppliers', () => this.#service.listSuppliers(signal), signal); }
  listOffers(id: string, signal?: AbortSignal): ReturnType<Service['listOffers']> { return this.#read(`offers ${id}`, () => this.#service.listOffers(id, signal), signal); }
  readShopCard(signal?: AbortSignal): ReturnType<Service['readShopCard']> { return this.#read('shop', () => this.#service.readShopCard(signal), signal); }

  // Lists of all jobs are kept, so that those of a job never opened before are here too.
  async listReservations(jobId?: string, signal?: AbortSignal): Promise<Reservation[]> {
    return ofJob(await this.#read<Reservation[]>('reservations', () => this.#service.listReservations(undefined, signal), signal), jobId);
  }

  async listOrderLines(jobId?: string, signal?: AbortSignal): Promise<OrderLine[]> {
    return ofJob(await this.#read<OrderLine[]>('order-lines', () => this.#service.listOrderLines(undefined, signal), signal), jobId);
  }

  async listOutcomes(jobId?: string, signal?: AbortSignal): Promise<PartOutcome[]> {
    return ofJob(await this.#read<PartOutcome[]>('outcomes', () => this.#service.listOutcomes(undefined, signal), signal), jobId);
  }

  #read<T>(name: Reading, ask: () => Promise<T>, signal: AbortSignal | undefined): Promise<T> {
    const kept = this.#store.read((database) => database.get('kept', name));
    return this.#answer(name, kept.then((reading) => reading && { value: reading.value as T, at: reading.at }), ask,
      (value) => this.#store.write(['kept'], async (writing) => {
        await writing.objectStore('kept').put({ value, at: this.#world.now().toISOString() }, name);
      }), signal);
  }

  /**
   * The server's answer, kept behind; where there is an older one and the server is not reached in time, the older one. An answer that comes
   * after that is still kept, for the next reading. An ended session is told: a person has to sign in. The server is asked while the device's
   * own store is still being read: a first page waits for the slower of the two, not for both.
   */
  async #answer<T>(
    name: string, reading: Promise<{ value: T; at: string | undefined } | undefined>, ask: () => Promise<T>, keep: (fresh: T, older: T | undefined) => Promise<void>, signal: AbortSignal | undefined,
  ): Promise<T> {
    const asked = ask().then((fresh) => {
      this.#ages.delete(name);
      // A disk that is full is told by the store itself; the answer serves all the same.
      void reading.then((older) => keep(fresh, older?.value)).catch(() => {});
      return fresh;
    });
    // Answered for below, once it is known whether there is an older one.
    asked.catch(() => {});
    const older = await reading;
    if (older === undefined) return asked;
    const useOlder = (): T => {
      this.#ages.set(name, older.at ?? this.#world.now().toISOString());
      return older.value;
    };
    return Promise.race([
      asked.catch((error: unknown) => {
        if (signal?.aborted || !(error instanceof ServiceFault) || (error.kind !== 'unreachable' && error.kind !== 'failed')) throw error;
        return useOlder();
      }),
      this.#world.pause(PATIENCE_MS).then(useOlder),
    ]);
  }

  async #keepJobs(jobs: readonly JobState[]): Promise<void> {
    if (jobs.length === 0) return;
    await this.#store.write(['jobs'], async (writing) => {
      // Another answer may have come first.
      for (const job of jobs) if (isNewer(job, await writing.objectStore('jobs').get(job.id))) await writing.objectStore('jobs').put(job);
    });
    for (const { id } of jobs) this.#news.tell({ kind: 'job', id });
  }

  /** Jobs that were begun on this device and that the server has not got yet. */
  async #begunHere(): Promise<string[]> {
    const requests = await this.#store.read((database) => database.getAll('requests')) ?? [];
    return requests.flatMap((request) => (request.kind === 'start-job' ? [request.body.id] : []));
  }
}

/** Jobs with what waits for them on top. With it comes the reading of documents: a list on which nothing waits does without. */
async function layOverAll(jobs: JobState[], acts: readonly Act[]): Promise<JobState[]> {
  if (acts.length === 0) return jobs;
  const { layOver } = await import('./lay-over.ts');
  return jobs.map((job) => layOver(job, acts.filter(({ jobId }) => jobId === job.id)));
}

function isNewer(job: JobState, known: JobState | undefined): boolean {
  return known === undefined || job.revision > known.revision || (job.revision === known.revision && job.changedAt !== known.changedAt);
}

function ofJob<T extends { jobId?: string | undefined }>(entries: T[], jobId: string | undefined): T[] {
  return jobId === undefined ? entries : entries.filter((entry) => entry.jobId === jobId);
}

/** The day by the device's own zone, which is the shop's. */
function writeDay(now: Date): string {
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
}
