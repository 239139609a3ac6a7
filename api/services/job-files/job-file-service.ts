import {
  carriedWithJob, LIMITS, printFault, readPhotograph, type CarriedWithJob, type InputFault, type JobImport, type LoggedEdit, type PartOutcome,
} from '../../../catalog-schema/index.ts';
import {
  findCarried, findJob, findOutcome, findPhotograph, insertOutcome, insertPhotograph, listJobEdits, listPhotographs,
  putCarried, sumPhotographBytes, type Store, type Tx,
} from '../../store/index.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';
import type { Clock } from '../clock.ts';
import type { JobService } from '../jobs/job-service.ts';
import { wasOrdered, type OrderService } from '../orders/index.ts';
import { writeOutcomeRow, type OutcomeService } from '../outcomes/outcome-service.ts';
import type { PhotographService } from '../photographs/photograph-service.ts';
import { done, refuse, type Outcome, type Refusal } from '../outcome.ts';
import { wasReserved, type ShelfService } from '../shelf/index.ts';
import { JobFileReader, type FiledPicture, type TakenJobFile } from './job-file-reader.ts';
import { offerActs } from './merge-log.ts';
import { writeJobFile } from './write-job-file.ts';

/** Jobs on their way between shops: a job is one file, whole. */
export interface JobFileService {
  /** The file of a job, piece by piece; `title` is what it may be named after. */
  export(jobId: string): Promise<Outcome<{ title: string; pieces: AsyncGenerator<string> }>>;
  /**
   * Takes in a job file as its bytes come: all of it or, with a fault for each thing wrong, nothing. A job that is not here is begun with
   * the file's log; to one that is, the edits that are new come as those of a device that was away. The same file again changes nothing.
   */
  import(bytes: AsyncIterable<Uint8Array>): Promise<Outcome<JobImport>>;
  /** What came with a job and is no business of this shop's shelf, orders and catalogue. */
  readCarried(jobId: string): Promise<CarriedWithJob>;
}

export interface JobFileParties {
  readonly store: Store;
  readonly catalogue: CatalogueService;
  readonly jobs: JobService;
  readonly outcomes: OutcomeService;
  readonly orders: OrderService;
  readonly shelf: ShelfService;
  readonly photographs: PhotographService;
  readonly clock: Clock;
}

/** Leaves a transaction with nothing written. */
class Refused extends Error {
  readonly refusal: Refusal;
  constructor(refusal: Refusal) {
    super(`refused: ${refusal.kind}`);
    this.refusal = refusal;
  }
}

export function createJobFileService({ store, catalogue, jobs, outcomes, orders, shelf, photographs, clock }: JobFileParties): JobFileService {
  const readCarried = async (db: Store['db'] | Tx, jobId: string): Promise<CarriedWithJob> => {
    const json = await findCarried(db, jobId);
    return json === undefined ? { outcomes: [], reservations: [], orderLines: [] } : carriedWithJob.parse(JSON.parse(json));
  };

  const takeIn = async (tx: Tx, { file, pictures }: TakenJobFile): Promise<Omit<JobImport, 'job'>> => {
    const { id, edits, part } = file;
    const created = await findJob(tx, id) === undefined;
    if (created) take(await jobs.takeLogIn(tx, id, edits, part));
    // Before the edits of a job that is here: a sign-off among them is judged by the part that came along.
    await takeAlong(tx, id, file, await takeOutcomes(tx, file.outcomes, new Set(catalogue.current().byId.keys())));
    const editsAdded = created ? edits.length : await mergeLog(tx, id, edits);
    return { created, editsAdded, photographsAdded: await takePictures(tx, id, pictures) };
  };

  /** Keeps what this shop has no use for but to hand it on. */
  const takeAlong = async (tx: Tx, jobId: string, file: CarriedWithJob, outcomesLeft: readonly PartOutcome[]): Promise<void> => {
    const before = await readCarried(tx, jobId);
    const part = file.part ?? before.part;
    const after: CarriedWithJob = {
      ...(part === undefined || isSame(catalogue.current().byId.get(part.id), part) ? {} : { part }),
      outcomes: addNew(before.outcomes, outcomesLeft),
      reservations: addNew(before.reservations, await filterAsync(file.reservations, async ({ id }) => !await wasReserved(tx, id))),
      orderLines: addNew(before.orderLines, await filterAsync(file.orderLines, async ({ id }) => !await wasOrdered(tx, id))),
    };
    if (!isSame(before, after)) await putCarried(tx, jobId, JSON.stringify(after));
  };

  /** @returns how many edits were new. */
  const mergeLog = async (tx: Tx, jobId: string, edits: readonly LoggedEdit[]): Promise<number> => {
    const here = (await listJobEdits(tx, jobId)).map(({ id, field }) => ({ id, field: JSON.parse(field) as string[] }));
    let added = 0;
    for (const { edits: offered, wary } of offerActs(edits, here)) {
      let taken = await jobs.appendIn(tx, jobId, offered);
      if (!taken.ok) taken = await jobs.appendIn(tx, jobId, wary);
      if (!taken.ok && taken.refusal.kind === 'faults') {
        // It counted where it was made, and cannot here: it waits for a person, and is not left out.
        const heldFor = taken.refusal.faults.slice(0, 100).map((fault) => printFault(fault).slice(0, LIMITS.stringCharacters));
        taken = await jobs.appendIn(tx, jobId, wary.map((edit) => ({ ...edit, heldFor })));
      }
      take(taken);
      here.push(...offered.map(({ id, field }) => ({ id, field: [...field] })));
      added += offered.length;
    }
    return added;
  };

  return {
    export: async (jobId) => {
      const [job, edits] = [await jobs.read(jobId), await jobs.readEdits(jobId)];
      if (!job.ok) return job;
      if (!edits.ok) return edits;
      const { document } = job.value;
      const carried = await readCarried(store.db, jobId);
      const chosen = document.chosen?.partId;
      const part = chosen === undefined ? undefined : carried.part?.id === chosen ? carried.part : catalogue.current().byId.get(chosen);
      return done({ title: document.title, pieces: writeJobFile({
        id: job.value.id, exportedAt: clock.now().toISOString(), edits: edits.value, ...(part === undefined ? {} : { part }),
        outcomes: addNew(await outcomes.list(jobId), carried.outcomes),
        reservations: addNew(await shelf.reservations(jobId), carried.reservations),
        orderLines: addNew(await orders.lines(jobId), carried.orderLines),
        photographs: await listPhotographs(store.db, jobId),
        readPicture: async (hash) => take(await photographs.read(jobId, hash)).bytes,
      }) });
    },
    import: async (bytes) => {
      const reader = new JobFileReader();
      try {
        for await (const piece of bytes) if (!reader.push(piece)) break;
        const read = reader.end();
        if (!read.ok) return refuse({ kind: 'faults', faults: read.faults });
        try {
          const taken = await store.transact((tx) => takeIn(tx, read.value));
          return done({ ...taken, job: take(await jobs.read(read.value.file.id)) });
        } catch (error) {
          if (!(error instanceof Refused)) throw error;
          const { refusal } = error;
          return refuse(refusal.kind === 'faults' ? { kind: 'faults', faults: read.value.addLines(refusal.faults) } : refusal);
        }
      } finally {
        reader.close();
      }
    },
    readCarried: (jobId) => readCarried(store.db, jobId),
  };
}

/** Keeps outcomes of parts that the catalogue here knows; answers the others. */
async function takeOutcomes(tx: Tx, given: readonly PartOutcome[], partIds: ReadonlySet<string>): Promise<PartOutcome[]> {
  const left: PartOutcome[] = [];
  for (const [index, outcome] of given.entries()) {
    const present = await findOutcome(tx, outcome.id);
    if (present !== undefined && present.jobId !== outcome.jobId) throw refusedAt(`outcomes[${index}].id`, JSON.stringify(outcome.id), 'an id that no other job uses');
    if (present !== undefined) continue;
    if (partIds.has(outcome.partId)) await insertOutcome(tx, writeOutcomeRow(outcome, outcome.machineKind));
    else left.push(outcome);
  }
  return left;
}

/** @returns how many photographs were new. */
async function takePictures(tx: Tx, jobId: string, pictures: readonly FiledPicture[]): Promise<number> {
  let held = await sumPhotographBytes(tx, jobId);
  let added = 0;
  for (const [index, picture] of pictures.entries()) {
    if (await findPhotograph(tx, jobId, picture.hash)) continue;
    const path = `photographs[${index}].data`;
    const bytes = picture.read();
    const read = readPhotograph(bytes);
    if (!read.ok) throw new Refused({ kind: 'faults', faults: read.faults.map((fault) => ({ ...fault, path })) });
    held += bytes.length;
    if (held > LIMITS.photographBytesOfJob) throw refusedAt(path, `${held} bytes in this job's photographs`, `at most ${LIMITS.photographBytesOfJob} bytes`);
    await insertPhotograph(tx, { jobId, hash: picture.hash, ...read.value, bytes, byteCount: bytes.length, at: picture.at });
    added += 1;
  }
  return added;
}

function take<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Refused(outcome.refusal);
  return outcome.value;
}

function refusedAt(path: string, found: string, want: string): Refused {
  const fault: InputFault = { path, found, want };
  return new Refused({ kind: 'faults', faults: [fault] });
}

/** The first list with what the second has more, by id. */
function addNew<T extends { readonly id: string }>(first: readonly T[], second: readonly T[]): T[] {
  const ids = new Set(first.map((entry) => entry.id));
  return [...first, ...second.filter((entry) => !ids.has(entry.id))];
}

async function filterAsync<T>(entries: readonly T[], keep: (entry: T) => Promise<boolean>): Promise<T[]> {
  const kept: T[] = [];
  for (const entry of entries) if (await keep(entry)) kept.push(entry);
  return kept;
}

/** Whether two values are the same JSON, in whatever order their keys stand. */
function isSame(one: unknown, other: unknown): boolean {
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return one === other;
  const [keys, others] = [Object.keys(one), Object.keys(other)];
  return keys.length === others.length && Array.isArray(one) === Array.isArray(other)
    && keys.every((key) => Object.hasOwn(other, key) && isSame((one as Record<string, unknown>)[key], (other as Record<string, unknown>)[key]));
}
