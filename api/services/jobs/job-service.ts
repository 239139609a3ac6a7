import {
  EMPTY_LOG, findOwnFaults, groupActs, printFault, readJobDocument, stateOfJob, stepJobLog,
  type BenchRecord, type CarriedWithJob, type InputFault, type JobDocument, type JobEdit, type JobLog, type JobState, type JsonValue, type LoggedEdit, type LogStep, type NewJob, type OpenConflict, type Part,
} from '../../../catalog-schema/index.ts';
import {
  appendJobEdits, findCarried, findJob, findJobsOfEdits, insertJob, listCountedEdits, listJobEdits, listJobs,
  type JobEditRow, type JobTable, type Store, type Tx,
} from '../../store/index.ts';
import { done, refuse, type Outcome, type Refusal } from '../outcome.ts';
import { editsOfNewJob } from './new-job.ts';

export interface JobService {
  /** Every job, the one changed last first. */
  list(): Promise<JobState[]>;
  read(id: string): Promise<Outcome<JobState>>;
  readEdits(id: string): Promise<Outcome<LoggedEdit[]>>;
  /** A job with this id that is there already is answered as it stands, with `created` false. */
  create(job: NewJob, author?: string): Promise<Outcome<{ created: boolean; job: JobState }>>;
  /**
   * Appends edits, act by act: all of them, or none. An edit whose id is in the log already changes nothing.
   * An act that another device's edits have overtaken is taken into the log and held where it cannot count; one that knows all
   * that is in the log and leads to a document that would not read, or to a sign-off before its time, is refused.
   */
  append(jobId: string, edits: readonly JobEdit[]): Promise<Outcome<JobState>>;
  /**
   * Takes in a job made elsewhere with its whole log, as it stands there; refused where there is such a job already. A sign-off is
   * looked at anew and held where it is before its time. `part`: the chosen part, where this catalogue may have none of its id.
   */
  takeLog(id: string, edits: readonly LoggedEdit[], part?: Part): Promise<Outcome<JobState>>;
  // The same inside a transaction that does more.
  createIn(tx: Tx, job: NewJob, author?: string): Promise<Outcome<{ created: boolean; job: JobState }>>;
  appendIn(tx: Tx, jobId: string, edits: readonly JobEdit[]): Promise<Outcome<JobState>>;
  takeLogIn(tx: Tx, id: string, edits: readonly LoggedEdit[], part?: Part): Promise<Outcome<JobState>>;
}

export interface JobChecks {
  /** What is still open before a job whose document reads so may be signed off; nothing: it may. */
  readonly findSignOffBlocks?: (document: JobDocument, record: BenchRecord, part?: Part) => Promise<readonly InputFault[]>;
}

type Tree = { [key: string]: JsonValue };

export function createJobService(store: Store, { findSignOffBlocks = async () => [] }: JobChecks = {}): JobService {
  const service: JobService = {
    list: async () => (await listJobs(store.db)).map(readJobRow),
    read: async (id) => {
      const row = await findJob(store.db, id);
      return row ? done(readJobRow(row)) : refuseUnknown(id);
    },
    readEdits: async (id) => {
      const rows = await listJobEdits(store.db, id);
      return rows.length > 0 ? done(rows.map(readEditRow)) : refuseUnknown(id);
    },
    create: (job, author) => store.transact((tx) => service.createIn(tx, job, author)),
    createIn: async (tx, job, author) => {
      const present = await findJob(tx, job.id);
      if (present) return done({ created: false, job: readJobRow(present) });
      const faults = findUnkeyable(job);
      if (faults.length > 0) return refuse({ kind: 'faults', faults });
      const taken = await service.takeLogIn(tx, job.id, editsOfNewJob(job, author));
      return taken.ok ? done({ created: true, job: taken.value }) : taken;
    },
    takeLog: (id, edits, part) => store.transact((tx) => service.takeLogIn(tx, id, edits, part)),
    takeLogIn: async (tx, id, given, part) => {
      const edits = given.map(cleanAuthor);
      if (await findJob(tx, id)) return refuse({ kind: 'conflict', why: `there is a job ${id} already` });
      const jobOf = await findJobsOfEdits(tx, edits.map((edit) => edit.id));
      const faults = [...findEditFaults(edits, id, jobOf), ...findRepeats(edits)];
      if (edits.length === 0) faults.push({ path: 'edits', found: 'an empty list', want: 'at least one edit' });
      if (faults.length > 0) return refuse({ kind: 'faults', faults });
      let log = EMPTY_LOG;
      const rows: JobEditRow[] = [];
      for (const act of groupActs(edits)) {
        const met = await meetSignOff(log, act, part);
        rows.push(...met.rows);
        log = met.step.log;
      }
      const read = readJobDocument(log.tree);
      if (!read.ok) return refuse({ kind: 'faults', faults: read.faults });
      await insertJob(tx, { id, createdAt: edits[0]!.at });
      await appendJobEdits(tx, { id, revision: 0, ...writeLog(log) }, rows);
      return done(readJobRow((await findJob(tx, id))!));
    },
    append: (jobId, edits) => store.transact((tx) => service.appendIn(tx, jobId, edits)),
    appendIn: async (tx, jobId, edits) => {
      const row = await findJob(tx, jobId);
      if (!row) return refuseUnknown(jobId);
      const jobOf = await findJobsOfEdits(tx, edits.map((edit) => edit.id));
      const faults = findEditFaults(edits, jobId, jobOf, row.revision);
      if (faults.length > 0) return refuse({ kind: 'faults', faults });
      const seen = new Set(jobOf.keys());
      const fresh = edits.filter((edit) => !seen.has(edit.id) && seen.add(edit.id)).map(cleanAuthor);
      if (fresh.length === 0) return done(readJobRow(row));
      const acts = groupActs(markAct(fresh));
      const broken = acts.flatMap((act) => act.filter((edit) => edit.act !== undefined && edit.act !== act[0]!.id));
      if (broken.length > 0) return refuse({ kind: 'faults', faults: broken.map((edit) => wantAct(edits, edit.id, edit.act)) });

      let log = await readLog(tx, row, Math.min(...fresh.map((edit) => edit.base)));
      const rows: JobEditRow[] = [];
      for (const act of acts) {
        const met = await meetAct(tx, log, act, row);
        if (!met.ok) return met;
        rows.push(...met.rows);
        log = met.log;
      }
      await appendJobEdits(tx, { id: jobId, revision: row.revision, ...writeLog(log) }, rows);
      return done(readJobRow((await findJob(tx, jobId))!));
    },
  };

  /** The log with an act taken in; or why it is refused, where what is wrong with it is not what arrived meanwhile. */
  async function meetAct(tx: Tx, log: JobLog, act: readonly JobEdit[], row: JobTable): Promise<{ ok: true; log: JobLog; rows: JobEditRow[] } | { ok: false; refusal: Refusal }> {
    const knowsAll = act.every((edit) => edit.base >= row.revision);
    const alone = stepJobLog(log, act);
    if (alone.heldIds.size > 0 || alone.faults.length > 0) {
      const faults = knowsAll ? alone.faults : await findFaultsAtHome(tx, row.id, act);
      if (faults.length > 0) return refuse({ kind: 'faults', faults });
    }
    const carried = act.some((edit) => edit.field[0] === 'signedOff') ? await findCarriedPart(tx, row.id) : undefined;
    const { step, rows, blocks } = await meetSignOff(log, act, carried);
    return knowsAll && blocks.length > 0 ? refuse({ kind: 'faults', faults: blocks }) : { ok: true, log: step.log, rows };
  }

  /** The log with an act taken in, a sign-off held that is before its time; `blocks` say why. */
  async function meetSignOff(log: JobLog, act: readonly LoggedEdit[], part?: Part): Promise<{ step: LogStep; rows: JobEditRow[]; blocks: readonly InputFault[] }> {
    let logged = act;
    let step = stepJobLog(log, act);
    let blocks: readonly InputFault[] = [];
    const signature = act.find((edit) => edit.field[0] === 'signedOff' && edit.value !== null && !step.heldIds.has(edit.id));
    if (signature !== undefined) {
      const read = readJobDocument(step.log.tree);
      blocks = read.ok ? await findSignOffBlocks(read.document, read.record, part) : read.faults;
      if (blocks.length > 0) {
        logged = act.map((edit) => (edit === signature ? { ...edit, heldFor: blocks.map(printFault) } : edit));
        step = stepJobLog(log, logged);
      }
    }
    return { step, blocks, rows: logged.map((edit) => writeEditRow(edit, step.heldIds.has(edit.id))) };
  }
  return service;
}

/** The chosen part where it came with the job from another shop. */
async function findCarriedPart(tx: Tx, jobId: string): Promise<Part | undefined> {
  const json = await findCarried(tx, jobId);
  return json === undefined ? undefined : (JSON.parse(json) as CarriedWithJob).part;
}

/** What is wrong with an act on the device where it was made, whatever arrived meanwhile. */
async function findFaultsAtHome(tx: Tx, jobId: string, act: readonly JobEdit[]): Promise<InputFault[]> {
  const rows = await listJobEdits(tx, jobId);
  return findOwnFaults(rows.map(readEditRow), new Set(rows.filter((row) => row.held === 1).map((row) => row.id)), act);
}

/** What a job's rows say of its log: all that an act with this base can meet. */
async function readLog(tx: Tx, row: JobTable, base: number): Promise<JobLog> {
  const counted = await listCountedEdits(tx, row.id, base);
  return {
    tree: JSON.parse(row.document) as Tree, revision: row.revision, conflicts: JSON.parse(row.conflicts) as OpenConflict[],
    counted: counted.map(({ revision, ...edit }) => ({ ...readEditRow(edit), revision })),
  };
}

function writeLog({ tree, conflicts }: JobLog): { document: string; conflicts: string } {
  return { document: JSON.stringify(tree), conflicts: JSON.stringify(conflicts) };
}

/** Edits sent together are one act, unless they say otherwise. */
function markAct(edits: readonly JobEdit[]): readonly JobEdit[] {
  if (edits.length < 2 || edits.some((edit) => edit.act !== undefined)) return edits;
  return edits.map((edit) => ({ ...edit, act: edits[0]!.id }));
}

function wantAct(edits: readonly JobEdit[], id: string, act: string | undefined): InputFault {
  return { path: `edits[${edits.findIndex((edit) => edit.id === id)}].act`, found: JSON.stringify(act), want: 'the id of the first edit of its act, sent with it' };
}

/** Half a surrogate pair cannot be stored as text; in JSON it is an escape. */
function cleanAuthor<E extends JobEdit>(edit: E): E {
  return edit.author === undefined ? edit : { ...edit, author: edit.author.replace(/\p{Surrogate}/gu, '\uFFFD') };
}

function findEditFaults(edits: readonly JobEdit[], jobId: string, jobOf: ReadonlyMap<string, string>, revision = Infinity): InputFault[] {
  return edits.flatMap((edit, index) => {
    const faults: InputFault[] = [];
    const owner = jobOf.get(edit.id);
    if (owner !== undefined && owner !== jobId) {
      faults.push({ path: `edits[${index}].id`, found: JSON.stringify(edit.id), want: 'an id that no other job uses' });
    }
    const step = edit.field.indexOf('__proto__');
    if (edit.base > revision) faults.push({ path: `edits[${index}].base`, found: String(edit.base), want: `at most ${revision}, the revision that the job has` });
    if (step >= 0) faults.push({ path: `edits[${index}].field[${step}]`, found: '"__proto__"', want: 'another name' });
    return faults;
  });
}

function findRepeats(edits: readonly JobEdit[]): InputFault[] {
  const seen = new Set<string>();
  return edits.flatMap(({ id }, index) => {
    if (!seen.has(id)) return seen.add(id) && [];
    return [{ path: `edits[${index}].id`, found: JSON.stringify(id), want: 'an id that is not used twice' }];
  });
}

/** Names that cannot be keys of a document: an entry under one would be lost without a word. */
function findUnkeyable({ record }: NewJob): InputFault[] {
  const named = [
    ...(record.terminals ?? []).map((terminal, index) => ({ name: terminal.id, path: `record.terminals[${index}].id` })),
    ...(record.wires ?? []).map((wire, index) => ({ name: wire.tag, path: `record.wires[${index}].tag` })),
  ];
  return named.filter(({ name }) => name === '__proto__').map(({ path }) => ({ path, found: '"__proto__"', want: 'another name' }));
}

function readJobRow(row: JobTable): JobState {
  // It was read by the schema of its day before it was stored: one old job does not hide the others when the schema grows stricter.
  const { id, revision, createdAt, changedAt } = row;
  return stateOfJob({ id, createdAt, changedAt }, { revision, tree: JSON.parse(row.document) as Tree, conflicts: JSON.parse(row.conflicts) as OpenConflict[] });
}

function readEditRow({ field, value, author, device, act, settles, heldFor, id, base, at }: JobEditRow): LoggedEdit {
  return {
    id, field: JSON.parse(field) as string[], value: JSON.parse(value) as JsonValue, base, at,
    ...(author === null ? {} : { author }), ...(device === null ? {} : { device }), ...(act === null ? {} : { act }),
    ...(settles === null ? {} : { settles: JSON.parse(settles) as string[] }), ...(heldFor === null ? {} : { heldFor: JSON.parse(heldFor) as string[] }),
  };
}

function writeEditRow({ id, field, value, base, author, device, act, settles, heldFor, at }: LoggedEdit, held: boolean): JobEditRow {
  return {
    id, field: JSON.stringify(field), value: JSON.stringify(value), base, at, held: held ? 1 : 0,
    author: author ?? null, device: device ?? null, act: act ?? null, settles: settles === undefined ? null : JSON.stringify(settles), heldFor: heldFor === undefined ? null : JSON.stringify(heldFor),
  };
}

function refuseUnknown(id: string): { readonly ok: false; readonly refusal: { kind: 'not-found'; what: string } } {
  return { ok: false, refusal: { kind: 'not-found', what: `no job ${JSON.stringify(id.slice(0, 60))}` } };
}
