import type { JobConflict, JsonValue, LoggedEdit } from '../../catalog-schema/index.ts';

// Says what may become of an edit, without any of the product's code: which edits its maker had before them, what each edit writes leaf
// by leaf, and, after each arrival, where each of these leaves is.

/** An edit as the simulation saw it being made. */
export interface MadeEdit {
  readonly id: string;
  readonly device: string;
  /** the log the maker's page showed was so long */
  readonly seen: number;
  /** the maker's own edits that lay over it and that the server had not answered: what others wrote there was not to be seen */
  readonly over: readonly { readonly field: readonly string[]; readonly value: JsonValue; readonly seen: number }[];
  /** counts the device's edits */
  readonly order: number;
}

/** An edit in the log, in order of arrival. */
export interface Arrived { readonly edit: LoggedEdit; readonly made: MadeEdit | undefined; readonly held: boolean }

interface Leaf { readonly path: readonly string[]; readonly value: JsonValue }

/** Follows a log as it grows and says after each arrival what has been lost. */
export class LossWatch {
  #log: Arrived[] = [];
  /** held edits whose whole value has come to stand by others' hands: from then on they are as if they had counted */
  #agreed = new Set<string>();
  /** the field under which a held edit has been shown: with it go the device's later edits within */
  #shownAt = new Map<string, readonly string[]>();

  /** Every edit of the log whose value is neither in the document, nor held for a choice, nor replaced by somebody who had it before them. */
  findLost(arrived: readonly Arrived[], document: JsonValue, conflicts: readonly JobConflict[]): string[] {
    this.#log.push(...arrived);
    for (const { editId, field } of conflicts) this.#shownAt.set(editId, field);
    this.#log.forEach((entry, index) => {
      if (entry.held && leavesOf(entry.edit).every((leaf) => isSame(lookUp(document, leaf.path), leaf.value) || this.#isWrittenOn(index, leaf))) this.#agreed.add(entry.edit.id);
    });
    return this.#log.flatMap((entry, index) => leavesOf(entry.edit).filter((leaf) => !this.#isAccountedFor(index, leaf, document, conflicts))
      .map((leaf) => `edit ${index + 1} of ${entry.made?.device ?? 'the beginning'}: ${leaf.path.join('.')} = ${JSON.stringify(leaf.value)}${entry.held ? ', held' : ''}`));
  }

  #isAccountedFor(index: number, leaf: Leaf, document: JsonValue, conflicts: readonly JobConflict[]): boolean {
    const entry = this.#log[index]!;
    if (isSame(lookUp(document, leaf.path), leaf.value) || conflicts.some((conflict) => isShown(conflict, entry, leaf))) return true;
    if (entry.held && this.#isWrittenOn(index, leaf)) return true;
    const waits = entry.held && !this.#agreed.has(entry.edit.id);
    return this.#log.some((later, at) => {
      if (at === index || later.held || later.made === undefined || !isTouching(later.edit.field, leaf.path)) return false;
      return waits ? this.#isChosenAmong(index, leaf, later.edit.settles ?? []) : isOwnLater(entry, later) || hadBefore(later.made, entry, index, leaf);
    });
  }

  /** A choice names the edit itself, or a later one of the same device that was shown with it. */
  #isChosenAmong(index: number, leaf: Leaf, settles: readonly string[]): boolean {
    const { device } = this.#log[index]!.edit;
    return this.#log.slice(index).some(({ edit, held }) => held && settles.includes(edit.id) && edit.device === device
      && isTouching(this.#shownAt.get(edit.id) ?? edit.field, leaf.path));
  }

  /** A held edit's leaf that the same device has written anew before it knew, or in the same act. */
  #isWrittenOn(index: number, leaf: Leaf): boolean {
    const entry = this.#log[index]!;
    return this.#log.some((later, at) => at > index && later.held && isOwnLater(entry, later) && isTouching(later.edit.field, leaf.path));
  }
}

function isShown({ field, held }: JobConflict, { edit }: Arrived, { path, value }: Leaf): boolean {
  return held.device === edit.device && isWithin(path, field) && isSame(lookUp(held.value, path.slice(field.length)), value);
}

function isOwnLater(entry: Arrived, later: Arrived): boolean {
  return entry.made !== undefined && later.made !== undefined && entry.made.device === later.made.device && later.made.order > entry.made.order;
}

/** The maker's page showed this leaf. */
function hadBefore(maker: MadeEdit, entry: Arrived, index: number, leaf: Leaf): boolean {
  if (index >= maker.seen) return false;
  return !maker.over.some((own) => isTouching(own.field, leaf.path) && own.seen <= index && entry.made?.device !== maker.device
    && !(isWithin(leaf.path, own.field) && isSame(lookUp(own.value, leaf.path.slice(own.field.length)), leaf.value)));
}

/** Held edits that met nothing: nobody wrote anything else there that their maker did not have before them. */
export function findNeedless(log: readonly Arrived[], whys: ReadonlyMap<string, JobConflict['why']>): string[] {
  return log.flatMap(({ edit, made, held }, index) => {
    if (!held || made === undefined || whys.get(edit.id) !== 'other-value') return [];
    const met = log.slice(0, index).some((earlier, at) => isTouching(earlier.edit.field, edit.field)
      && (earlier.edit.device === edit.device ? earlier.held || (earlier.made?.order ?? 0) > made.order : isUnsure(made, at, edit) && !isSame(earlier.edit.value, edit.value)));
    return met ? [] : [`edit ${index + 1} of ${made.device} is held and met nothing: ${edit.field.join('.')}`];
  });
}

/** The maker's page did not show an earlier edit, or had edits of its own lie over the field that it wrote: it is then not taken to have seen more than those. */
function isUnsure(maker: MadeEdit, at: number, edit: LoggedEdit): boolean {
  return at >= maker.seen || maker.over.some((own) => own.seen <= at && isTouching(own.field, edit.field));
}

/** A standing sign-off and edits of what it vouches for that did not know of each other. */
export function findUnseenSigned(log: readonly Arrived[], document: JsonValue): string[] {
  const standing = lookUp(document, ['signedOff']);
  if (standing === null) return [];
  const at = log.findLastIndex(({ edit, held }) => !held && edit.field[0] === 'signedOff');
  const signed = log[at];
  if (signed?.made === undefined) return [];
  return log.flatMap(({ edit, made, held }, index) => {
    if (held || made === undefined || made.device === signed.made!.device || !['record', 'chosen', 'asLeft'].includes(edit.field[0]!)) return [];
    const unseen = index < at ? index >= signed.made!.seen : at >= made.seen;
    // What changed nothing needs no eyes.
    return unseen && (index < at || !wasSame(log, index, edit)) ? [`edit ${index + 1} of ${made.device} and the sign-off of ${signed.made!.device} did not know of each other`] : [];
  });
}

/** The edit wrote what stood there already, by the last edit before it that wrote just there. */
function wasSame(log: readonly Arrived[], index: number, edit: LoggedEdit): boolean {
  let document: JsonValue = {};
  for (const earlier of log.slice(0, index)) if (!earlier.held) document = put(document, earlier.edit.field, earlier.edit.value);
  return isSame(lookUp(document, edit.field), edit.value);
}

function put(value: JsonValue, [step, ...rest]: readonly string[], leaf: JsonValue): JsonValue {
  if (step === undefined) return leaf;
  const object = isObject(value) ? { ...value } : {};
  const below = put(object[step] ?? null, rest, leaf);
  if (below === null) delete object[step];
  else object[step] = below;
  return object;
}

/** What an edit writes, down to what has no parts. */
function leavesOf({ field, value }: { readonly field: readonly string[]; readonly value: JsonValue }): Leaf[] {
  if (!isObject(value)) return [{ path: field, value }];
  return Object.entries(value).flatMap(([key, part]) => leavesOf({ field: [...field, key], value: part }));
}

function lookUp(value: JsonValue, path: readonly string[]): JsonValue {
  let at: JsonValue = value;
  for (const step of path) at = isObject(at) ? at[step] ?? null : null;
  return at;
}

function isWithin(path: readonly string[], field: readonly string[]): boolean {
  return field.every((step, index) => path[index] === step);
}

function isTouching(one: readonly string[], other: readonly string[]): boolean {
  return isWithin(one, other) || isWithin(other, one);
}

function isObject(value: JsonValue): value is { [key: string]: JsonValue } {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isSame(one: JsonValue, other: JsonValue): boolean {
  return JSON.stringify(sorted(one)) === JSON.stringify(sorted(other));
}

function sorted(value: JsonValue): JsonValue {
  if (Array.isArray(value)) return value.map(sorted);
  if (!isObject(value)) return value;
  return Object.fromEntries(Object.entries(value).toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([key, part]) => [key, sorted(part)]));
}
