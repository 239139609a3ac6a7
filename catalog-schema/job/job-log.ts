import type { InputFault } from '../input-fault.ts';
import { printFault } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import type { BenchRecord } from '../bench-record.ts';
import { findValue, isOverlap, isSameValue, type FieldPath } from './field-path.ts';
import type { JobConflict } from './job-conflict.ts';
import { applyEdit, readJobDocument, recordOfDocument, type JobDocument, type JobState } from './job-document.ts';
import type { JsonValue, LoggedEdit } from './job-edit.ts';

type Tree = { [key: string]: JsonValue };
type Why = JobConflict['why'];

/** An edit with its place in the log: the job's revision with which it arrived, 1 for the first. */
export type PlacedEdit = LoggedEdit & { readonly revision: number };

/**
 * A held edit, with the revision since when the document says the same by others' hands. It is not shown then; but who writes over
 * it without knowing of that brings it back.
 */
export type OpenConflict = JobConflict & { readonly agreedAt?: number };

/** What a log adds up to. */
export interface JobLog {
  /** the document as JSON, unchecked */
  readonly tree: Readonly<Tree>;
  /** edits in the log, those held too */
  readonly revision: number;
  readonly conflicts: readonly OpenConflict[];
  /** edits that count, oldest first; a step needs only those behind its act's base */
  readonly counted: readonly PlacedEdit[];
}

export const EMPTY_LOG: JobLog = { tree: {}, revision: 0, conflicts: [], counted: [] };

export interface LogStep {
  readonly log: JobLog;
  /** edits of the act that are held */
  readonly heldIds: ReadonlySet<string>;
  /** why the act cannot count even by itself, on top of all that is in the log; empty where it can, or was only met by another's edit */
  readonly faults: readonly InputFault[];
}

/** What a sign-off vouches for. */
const SIGNED_FOR: ReadonlySet<string> = new Set(['record', 'chosen', 'asLeft']);

/** The edits of a log as the acts they were made in. */
export function groupActs<E extends Pick<LoggedEdit, 'id' | 'act'>>(edits: readonly E[]): E[][] {
  const acts: E[][] = [];
  for (const edit of edits) {
    const last = acts.at(-1);
    if (last !== undefined && edit.act !== undefined && last[0]!.act === edit.act && edit.id !== edit.act) last.push(edit);
    else acts.push([edit]);
  }
  return acts;
}

/** What a whole log adds up to, in the order of arrival. The outcome of an act never changes by what arrives after it. */
export function foldJobLog(edits: readonly LoggedEdit[]): JobLog {
  return groupActs(edits).reduce((log, act) => stepJobLog(log, act).log, EMPTY_LOG);
}

/** The job that a log is. @throws where the log is empty. */
export function stateOfLog(id: string, edits: readonly LoggedEdit[]): JobState {
  const first = edits[0];
  if (first === undefined) throw new Error('a job has at least one edit');
  return stateOfJob({ id, createdAt: first.at, changedAt: edits.at(-1)!.at }, foldJobLog(edits));
}

export function stateOfJob(job: Pick<JobState, 'id' | 'createdAt' | 'changedAt'>, { tree, revision, conflicts }: Pick<JobLog, 'tree' | 'revision' | 'conflicts'>): JobState {
  return {
    id: job.id, revision, document: tree as unknown as JobDocument, record: recordOfDocument(tree) as BenchRecord, conflicts: conflicts.filter(isOpen),
    createdAt: job.createdAt, changedAt: job.changedAt,
  };
}

/**
 * The log after one more act. An edit is held, and the rest of its act counts, where another device that did not know of it wrote
 * something else in the field first, or its own device has written on there since it was made; where the rest would not read alone, the
 * whole act is held. The device's own later edits of a field it has an edit held in, made before it knew, follow that edit. Nothing is
 * left out and nothing is chosen.
 */
export function stepJobLog(log: JobLog, act: readonly LoggedEdit[]): LogStep {
  const edits = act.map((edit, index): PlacedEdit => ({ ...edit, revision: log.revision + index + 1 }));
  const why = new Map<PlacedEdit, Why>();
  for (const edit of edits) {
    const met = findWhy(log, edit, [...why.keys()]);
    if (met !== undefined) why.set(edit, met);
  }
  let after = weigh(log, edits, why, []);
  const signature = edits.find((edit) => isSignOff(edit) && !why.has(edit));
  const { length } = after.conflicts.filter(isOpen);
  if (signature !== undefined && length > 0) {
    why.set(signature, 'open-conflicts');
    const want = `${length === 1 ? 'the edit that waits' : `the ${length} edits that wait`} for a choice settled first`;
    const faults = [{ path: 'signedOff', found: 'a sign-off', want }];
    after = weigh(log, edits, why, faults);
    return makeStep(log, edits, why, after, faults);
  }
  const faults = why.size === edits.length ? [] : findFaults(after.tree);
  // What did not read before, as while the first edits of a job are read, is not made worse.
  if (faults.length > 0 && findFaults(log.tree).length === 0) {
    for (const edit of edits) if (!why.has(edit)) why.set(edit, 'does-not-read');
    after = weigh(log, edits, why, faults);
  }
  return makeStep(log, edits, why, after, faults);
}

/**
 * What is wrong with an act by itself: on what its device knew, which is the log up to the act's base and the device's own edits
 * behind it. `log` is the whole log, `held` the ids of its edits that do not count.
 */
export function findOwnFaults(log: readonly LoggedEdit[], held: ReadonlySet<string>, act: readonly LoggedEdit[]): InputFault[] {
  const first = act[0];
  if (first === undefined) return [];
  const known = log.filter((edit, index) => (index < first.base ? !held.has(edit.id) : originOf(edit) === originOf(first)))
    .reduce<Tree>((before, edit) => applyEdit(before, edit), {});
  // What the device showed can only be guessed where its earlier acts did not read on top of what it fetched meanwhile.
  return findFaults(known).length > 0 ? [] : findFaults(act.reduce<Tree>((before, edit) => applyEdit(before, edit), known));
}

function makeStep(log: JobLog, edits: readonly PlacedEdit[], why: ReadonlyMap<PlacedEdit, Why>, after: Pick<JobLog, 'tree' | 'conflicts'>, faults: readonly InputFault[]): LogStep {
  return {
    log: { ...after, revision: log.revision + edits.length, counted: [...log.counted, ...edits.filter((edit) => !why.has(edit))] },
    heldIds: new Set([...why.keys()].map((edit) => edit.id)), faults,
  };
}

/** Why an edit is held by what was in the log before it, and by the edits of its own act that are held. */
function findWhy(log: JobLog, edit: PlacedEdit, heldBefore: readonly PlacedEdit[]): Why | undefined {
  if (edit.heldFor !== undefined) return 'not-ready';
  const own = log.conflicts.find((conflict) => isUnawareOf(edit, conflict));
  if (own !== undefined) return own.why;
  if (heldBefore.some((held) => isOverlap(held.field, edit.field))) return 'other-value';
  const origin = originOf(edit);
  for (const earlier of log.counted) {
    if (earlier.revision <= edit.base) continue;
    // A copy of a request that comes after its device has written on: the later edit stands.
    const isOwn = originOf(earlier) === origin;
    if (isOwn && !(edit.device !== undefined && Date.parse(earlier.at) > Date.parse(edit.at))) continue;
    if (isOverlap(earlier.field, edit.field)) {
      const at = earlier.field.length > edit.field.length ? earlier.field : edit.field;
      if (!isSameValue(findValue(edit.value, at.slice(edit.field.length)), findValue(log.tree, at))) return 'other-value';
    }
    if (isOwn) continue;
    if (isSignOff(edit) && SIGNED_FOR.has(earlier.field[0]!)) return 'signed-off';
    if (isSignOff(earlier) && SIGNED_FOR.has(edit.field[0]!) && findValue(log.tree, ['signedOff']) !== null
      && !isSameValue(edit.value, findValue(log.tree, edit.field))) return 'signed-off';
  }
  return undefined;
}

/** What an act adds up to when some of its edits are held. */
function weigh(log: JobLog, edits: readonly PlacedEdit[], why: ReadonlyMap<PlacedEdit, Why>, faults: readonly InputFault[]): Pick<JobLog, 'tree' | 'conflicts'> {
  const counting = edits.filter((edit) => !why.has(edit));
  const tree = counting.reduce<Tree>((before, edit) => applyEdit(before, edit), log.tree as Tree);
  const settled = new Set(counting.flatMap((edit) => edit.settles ?? []));
  let conflicts = log.conflicts.flatMap((conflict): OpenConflict[] => {
    if (settled.has(conflict.editId)) return [];
    const by = counting.filter((edit) => isOverlap(edit.field, conflict.field));
    return by.length === 0 ? [conflict] : writeBeside(conflict, by, tree);
  });
  const lines = faults.map(printFault);
  for (const edit of edits) {
    const reason = why.get(edit);
    if (reason !== undefined) conflicts = holdEdit(conflicts, edit, reason, lines, log.counted);
  }
  return {
    tree,
    conflicts: conflicts.map(({ agreedAt, ...conflict }): OpenConflict => {
      const value = findValue(tree, conflict.field);
      const agrees = isSameValue(value, conflict.held.value);
      return { ...conflict, standing: { ...conflict.standing, value }, ...(agrees ? { agreedAt: agreedAt ?? log.revision + edits.length } : {}) };
    }),
  };
}

/** A conflict after edits that count wrote in its field. What was agreed on is over once somebody who knew that has written something else. */
function writeBeside(conflict: OpenConflict, by: readonly PlacedEdit[], tree: Tree): OpenConflict[] {
  const { agreedAt, editId, field, held } = conflict;
  const origin = originOf({ ...held, id: editId });
  const isOver = agreedAt !== undefined && !isSameValue(findValue(tree, field), held.value)
    && by.every((edit) => edit.base >= agreedAt || originOf(edit) === origin);
  return isOver ? [] : [{ ...conflict, standing: writtenBy(by.at(-1)!, null) }];
}

function isOpen({ agreedAt }: OpenConflict): boolean { return agreedAt === undefined; }

/** The conflicts with one more edit held, or carried on where it builds on an edit of the same device that is held already. */
function holdEdit(conflicts: readonly OpenConflict[], edit: PlacedEdit, why: Why, lines: readonly string[], counted: readonly PlacedEdit[]): OpenConflict[] {
  const own = conflicts.filter((conflict) => isUnawareOf(edit, conflict));
  const above = own.find((conflict) => conflict.field.length < edit.field.length);
  const replaced = new Set(own.filter((conflict) => conflict.field.length >= edit.field.length));
  const field = above?.field ?? edit.field;
  const value = above === undefined ? edit.value
    : findValue(applyEdit({ held: above.held.value }, { field: ['held', ...edit.field.slice(above.field.length)], value: edit.value }), ['held']);
  const first = above ?? [...replaced][0];
  const faults = edit.heldFor ?? (lines.length > 0 && (why === 'does-not-read' || why === 'open-conflicts') ? lines : first?.faults ?? []);
  const met = counted.findLast((earlier) => earlier.revision > edit.base && isOverlap(earlier.field, field));
  const standing = met === undefined ? first?.standing ?? { value: null } : writtenBy(met, null);
  const act = edit.act === undefined ? {} : { act: edit.act };
  const held: JobConflict = { editId: edit.id, field, ...act, why, faults: [...faults], standing, held: { ...writtenBy(edit, value), revision: edit.revision } };
  return [...conflicts.filter((conflict) => conflict !== above && !replaced.has(conflict)), held];
}

function writtenBy(edit: PlacedEdit, value: JsonValue): { value: JsonValue; author?: string; device?: string; at: string } {
  return { value, ...(edit.author === undefined ? {} : { author: edit.author }), ...(edit.device === undefined ? {} : { device: edit.device }), at: edit.at };
}

/** An edit made on the device whose edit is held, over that edit, before the device knew that it is held. */
function isUnawareOf(edit: PlacedEdit, { editId, field, held }: JobConflict): boolean {
  return isOverlap(field, edit.field) && originOf(edit) === originOf({ ...held, id: editId })
    // A late copy of an earlier request does not take the place of what its device wrote since.
    && edit.base < held.revision && Date.parse(edit.at) >= Date.parse(held.at);
}

function originOf({ id, author, device }: { id: string; author?: string | undefined; device?: string | undefined }): string {
  return device !== undefined ? `device ${device}` : author !== undefined ? `author ${author}` : `edit ${id}`;
}

function isSignOff({ field, value }: { field: FieldPath; value: JsonValue }): boolean {
  return field[0] === 'signedOff' && value !== null;
}

function findFaults(tree: Tree): InputFault[] {
  const read = readJobDocument(tree);
  if (!read.ok) return read.faults;
  const { length } = JSON.stringify(tree);
  return length > LIMITS.jsonRequestBytes ? [{ path: '', found: `a job of ${length} characters`, want: `at most ${LIMITS.jsonRequestBytes}` }] : [];
}
