import {
  applyEdit, LIMITS, readJobDocument, recordOfDocument,
  type BenchRecord, type InputFault, type JobDocument, type JobEdit, type JobState, type JsonValue, type NewJob,
} from '../../../catalog-schema/index.ts';
import {
  appendJobEdits, findJob, findJobsOfEdits, insertJob, listJobEdits, listJobs,
  type JobEditRow, type JobTable, type Store, type Tx,
} from '../../store/index.ts';
import { done, refuse, type Outcome } from '../outcome.ts';
import { editsOfNewJob } from './new-job.ts';

export interface JobService {
  /** Every job, the one changed last first. */
  list(): Promise<JobState[]>;
  read(id: string): Promise<Outcome<JobState>>;
  readEdits(id: string): Promise<Outcome<JobEdit[]>>;
  /** A job with this id that is there already is answered as it stands, with `created` false. */
  create(job: NewJob): Promise<Outcome<{ created: boolean; job: JobState }>>;
  /**
   * Appends edits: all of them, or none when the document they lead to would not read.
   * An edit whose id is in the log already changes nothing.
   */
  append(jobId: string, edits: readonly JobEdit[]): Promise<Outcome<JobState>>;
  /** `create` inside a transaction that does more. */
  createIn(tx: Tx, job: NewJob): Promise<Outcome<{ created: boolean; job: JobState }>>;
}

type Tree = { [key: string]: JsonValue };

export function createJobService(store: Store): JobService {
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
    create: (job) => store.transact((tx) => service.createIn(tx, job)),
    createIn: async (tx, job) => {
      const present = await findJob(tx, job.id);
      if (present) return done({ created: false, job: readJobRow(present) });
      const faults = findUnkeyable(job);
      if (faults.length > 0) return refuse({ kind: 'faults', faults });
      const edits = editsOfNewJob(job);
      const added = addUp({}, edits);
      if (!added.ok) return added;
      await insertJob(tx, { id: job.id, createdAt: job.at });
      await appendJobEdits(tx, { id: job.id, revision: 0, document: added.value }, edits.map(writeEditRow));
      return done({ created: true, job: readJobRow((await findJob(tx, job.id))!) });
    },
    append: (jobId, edits) => store.transact(async (tx) => {
      const row = await findJob(tx, jobId);
      if (!row) return refuseUnknown(jobId);
      const jobOf = await findJobsOfEdits(tx, edits.map((edit) => edit.id));
      const faults = edits.flatMap((edit, index) => findEditFaults(edit, index, jobId, jobOf));
      if (faults.length > 0) return refuse({ kind: 'faults', faults });
      const seen = new Set(jobOf.keys());
      const fresh = edits.filter((edit) => !seen.has(edit.id) && seen.add(edit.id));
      if (fresh.length === 0) return done(readJobRow(row));
      const added = addUp(JSON.parse(row.document) as Tree, fresh);
      if (!added.ok) return added;
      await appendJobEdits(tx, { id: jobId, revision: row.revision, document: added.value }, fresh.map(writeEditRow));
      return done(readJobRow((await findJob(tx, jobId))!));
    }),
  };
  return service;
}

/** The document after these edits as JSON, or why it would not read. */
function addUp(document: Tree, edits: readonly JobEdit[]): Outcome<string> {
  const after = edits.reduce<Tree>((tree, edit) => applyEdit(tree, edit), document);
  const read = readJobDocument(after);
  if (!read.ok) return refuse({ kind: 'faults', faults: read.faults });
  const json = JSON.stringify(after);
  if (json.length > LIMITS.jsonRequestBytes) {
    return refuse({ kind: 'faults', faults: [{ path: '', found: `a job of ${json.length} characters`, want: `at most ${LIMITS.jsonRequestBytes}` }] });
  }
  return done(json);
}

function findEditFaults(edit: JobEdit, index: number, jobId: string, jobOf: ReadonlyMap<string, string>): InputFault[] {
  const faults: InputFault[] = [];
  const owner = jobOf.get(edit.id);
  if (owner !== undefined && owner !== jobId) {
    faults.push({ path: `edits[${index}].id`, found: JSON.stringify(edit.id), want: 'an id that no other job uses' });
  }
  const step = edit.field.indexOf('__proto__');
  if (step >= 0) faults.push({ path: `edits[${index}].field[${step}]`, found: '"__proto__"', want: 'another name' });
  return faults;
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
  const document = JSON.parse(row.document) as Tree;
  return {
    id: row.id, revision: row.revision, document: document as unknown as JobDocument, record: recordOfDocument(document) as BenchRecord, conflicts: [],
    createdAt: row.createdAt, changedAt: row.changedAt,
  };
}

function readEditRow({ author, field, value, ...row }: JobEditRow): JobEdit {
  return {
    ...row, field: JSON.parse(field) as string[], value: JSON.parse(value) as JsonValue, ...(author === null ? {} : { author }),
  };
}

function writeEditRow({ id, field, value, base, author, at }: JobEdit): JobEditRow {
  // Half a surrogate pair cannot be stored as text; in JSON it is an escape.
  return { id, field: JSON.stringify(field), value: JSON.stringify(value), base, author: author?.replace(/\p{Surrogate}/gu, '\uFFFD') ?? null, at };
}

function refuseUnknown(id: string): { readonly ok: false; readonly refusal: { kind: 'not-found'; what: string } } {
  return { ok: false, refusal: { kind: 'not-found', what: `no job ${JSON.stringify(id.slice(0, 60))}` } };
}
