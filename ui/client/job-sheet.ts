import {
  findValue, isOverlap, isSameValue, type BenchRecord, type JobConflict, type JobDocument, type JobEdit, type JobState, type JsonValue,
} from '../../catalog-schema/index.ts';
import { actIdOf, type Act, type ActKeeper } from './act-keeper.ts';
import { applyChanges, readTree, type Tree } from './apply-changes.ts';
import type { ChangeResult, FieldChange, RefusedAct, SendState, WorkSheet } from './work-sheet.ts';

/** What the sheet needs of the world, so that a test can bring its own. */
export interface SheetWorld {
  readonly now: () => Date;
  readonly newId: () => string;
  readonly author: () => string | undefined;
}

/** `keeping` until the store has answered, then where the act is. */
interface Entry { readonly act: Act; readonly how: 'keeping' | 'kept' | 'in-memory' }

/** What would take an act back, and what the act left in each of those fields. */
interface Undo { readonly act: Act; readonly steps: readonly { readonly change: FieldChange; readonly left: JsonValue }[] }

/**
 * A job of the server's with the acts made on this device laid over it, until the server has them. An act shows at once, and outlives
 * the page once the keeper has it; the keeper sends it and tells when the server's answer is in.
 */
export class JobSheet extends EventTarget implements WorkSheet {
  readonly jobId: string;
  document!: JobDocument;
  record!: BenchRecord;
  sendState!: SendState;
  conflicts!: readonly JobConflict[];
  refused!: readonly RefusedAct[];
  #keeper: ActKeeper;
  #world: SheetWorld;
  #base: JobState;
  #entries: readonly Entry[];
  #tree!: Tree;
  #undo: Undo[] = [];
  #reading = false;
  #readAgain = false;
  #closed = false;
  #endFollow: () => void;

  /** @throws where the server's document does not read */
  constructor(state: JobState, keeper: ActKeeper, world: SheetWorld, acts: readonly Act[] = []) {
    super();
    this.jobId = state.id;
    this.#base = state;
    this.#keeper = keeper;
    this.#world = world;
    this.#entries = acts.map((act) => ({ act, how: 'kept' }));
    this.#endFollow = keeper.follow(this.jobId, () => { void this.#refresh(); });
    this.#show();
    let tree = state.document as unknown as Tree;
    for (const { act } of this.#entries.filter((entry) => entry.act.answer === undefined)) {
      tree = applyChanges(tree, act.edits).tree;
      this.#undo.push(undoOf(act, tree));
    }
  }

  get canUndo(): boolean { return this.#undo.length > 0; }
  get revision(): number { return this.#base.revision; }
  /** edits made on this device that the server has not answered, in order */
  get waitingEdits(): readonly JobEdit[] { return this.#entries.flatMap(({ act }) => (act.answer === undefined ? act.edits : [])); }
  /** this device's id, as it stands beside its edits */
  get device(): string { return this.#keeper.device; }

  change(changes: readonly FieldChange[]): ChangeResult {
    if (changes.length === 0) return { ok: true };
    const act = this.#make(changes);
    if (!act.ok) return act;
    this.#keep(act.act);
    this.#undo.push(undoOf(act.act, this.#tree));
    this.#tell();
    return { ok: true };
  }

  undo(): void {
    const last = this.#undo.pop();
    if (last === undefined) return;
    const changes = last.steps.flatMap(({ change, left }): FieldChange[] => {
      // What waits for a choice was never written: taking it back is choosing what stands.
      const held = this.conflicts.find((conflict) => last.act.edits.some((edit) => edit.id === conflict.editId) && isSamePath(conflict.field, change.field));
      if (held !== undefined) return [{ field: held.field, value: held.standing.value, settles: [held.editId] }];
      return isSameValue(withoutEmpty(findValue(this.#tree, change.field)), withoutEmpty(left)) ? [change] : [];
    });
    const act = changes.length === 0 ? undefined : this.#make(changes);
    if (act?.ok) this.#keep(act.act);
    this.#tell();
  }

  settle(choices: readonly { readonly editId: string; readonly value: JsonValue }[]): ChangeResult {
    const changes = choices.flatMap(({ editId, value }): FieldChange[] => {
      const chosen = this.conflicts.find((conflict) => conflict.editId === editId);
      if (chosen === undefined) return [];
      const { field } = chosen;
      return [{ field, value, settles: this.conflicts.filter((conflict) => isSamePath(conflict.field, field)).map((conflict) => conflict.editId) }];
    });
    if (changes.length === 0) return { ok: true };
    const act = this.#make(changes);
    if (!act.ok) return act;
    this.#keep(act.act);
    this.#tell();
    return { ok: true };
  }

  mendRefused(actId: string, changes?: readonly FieldChange[]): ChangeResult {
    const entry = this.#findRefused(actId);
    if (entry === undefined) return { ok: true };
    const act = this.#make(changes ?? changesOf(entry.act));
    if (!act.ok) return act;
    this.#replace(entry, act.act);
    this.#undo.push(undoOf(act.act, this.#tree));
    return { ok: true };
  }

  dropRefused(actId: string): void {
    const entry = this.#findRefused(actId);
    if (entry !== undefined) this.#replace(entry);
  }

  /** Sends what waits now instead of at the next try. */
  sendNow(): void { this.#keeper.sendNow(); }

  /** Takes a newer state of the server's; what waits here stays laid over it. */
  takeState(state: JobState): void {
    if (state.revision <= this.#base.revision) return;
    this.#base = state;
    this.#show();
    this.#tell();
  }

  close(): void {
    this.#closed = true;
    this.#endFollow();
  }

  /** An act of these changes made now, where the document reads with it. */
  #make(changes: readonly FieldChange[]): { ok: true; act: Act } | { ok: false; why: string } {
    const applied = applyChanges(this.#tree, changes);
    const read = readTree(applied.tree);
    if (!read.ok) return read;
    const at = this.#world.now().toISOString();
    const author = this.#world.author();
    const ids = changes.map(() => this.#world.newId());
    const edits = changes.map(({ field, value, settles }, index): JobEdit => ({
      id: ids[index]!, field: [...field], value, base: this.#baseOf(field, settles), device: this.#keeper.device, at,
      ...(author === undefined ? {} : { author }), ...(changes.length > 1 ? { act: ids[0]! } : {}), ...(settles === undefined ? {} : { settles: [...settles] }),
    }));
    return { ok: true, act: { jobId: this.jobId, edits, inverse: applied.inverse, at } };
  }

  /**
   * The revision that a new edit of a field knows. Where an act that waits lies over the field, what others have written there is not
   * to be seen, so the edit knows no more of it than that act; who settles a conflict has seen what stands.
   */
  #baseOf(field: readonly string[], settles: readonly string[] | undefined): number {
    const over = settles === undefined ? this.waitingEdits.filter((edit) => isOverlap(edit.field, field)) : [];
    return over.reduce((least, edit) => Math.min(least, edit.base), this.#base.revision);
  }

  #keep(act: Act): void {
    this.#entries = [...this.#entries, { act, how: 'keeping' }];
    this.#show();
    void this.#keeper.keep(act).then((how) => this.#place(act, how));
  }

  /** The keeper has taken an act over: from here on its list says whether the act still waits. */
  #place(act: Act, how: Entry['how']): void {
    this.#entries = this.#entries.map((entry) => (entry.act === act ? { act, how } : entry));
    this.#show();
    this.#tell();
    void this.#refresh();
  }

  #replace(entry: Entry, instead?: Act): void {
    this.#entries = [...this.#entries.filter((each) => each !== entry), ...(instead === undefined ? [] : [{ act: instead, how: 'keeping' } as const])];
    this.#show();
    this.#tell();
    void this.#keeper.replace(this.jobId, actIdOf(entry.act), instead).then(
      () => { if (instead !== undefined) this.#place(instead, 'kept'); },
      // The store could not be written: what was to be dropped is still there, and shown again.
      () => {
        this.#entries = this.#entries.filter((each) => each.act !== instead);
        void this.#refresh();
      },
    );
  }

  #findRefused(actId: string): Entry | undefined {
    return this.#entries.find(({ act }) => act.answer !== undefined && actIdOf(act) === actId);
  }

  /** Reads again what waits and what the server answered; news that come meanwhile are read in one more turn. */
  async #refresh(): Promise<void> {
    this.#readAgain = true;
    if (this.#reading) return;
    this.#reading = true;
    while (this.#readAgain && !this.#closed) {
      this.#readAgain = false;
      const taken = new Set(this.#entries.filter(({ how }) => how !== 'keeping').map(({ act }) => actIdOf(act)));
      const { state, acts } = await this.#keeper.read(this.jobId);
      const listed = new Set(acts.map(actIdOf));
      const known = new Map(this.#entries.map((entry) => [actIdOf(entry.act), entry]));
      this.#entries = [
        ...acts.map((act): Entry => ({ act, how: known.get(actIdOf(act))?.how ?? 'kept' })),
        ...this.#entries.filter(({ act }) => !listed.has(actIdOf(act)) && !taken.has(actIdOf(act))),
      ];
      if (state !== undefined && state.revision > this.#base.revision) this.#base = state;
      const refused = new Set(acts.filter((act) => act.answer !== undefined).map(actIdOf));
      this.#undo = this.#undo.filter(({ act }) => !refused.has(actIdOf(act)));
      this.#show();
      this.#tell();
    }
    this.#reading = false;
  }

  /** Lays what waits over the server's document. An act that does not read on top waits without being shown: the server will hold it. */
  #show(): void {
    const base = this.#base.document as unknown as Tree;
    const waiting = this.#entries.map(({ act }) => act).filter((act) => act.answer === undefined);
    let tree = applyChanges(base, waiting.flatMap((act) => act.edits)).tree;
    let read = readTree(tree);
    if (!read.ok) {
      tree = base;
      read = readTree(base);
      for (const act of waiting) {
        const next = applyChanges(tree, act.edits).tree;
        const nextRead = readTree(next);
        if (nextRead.ok) [tree, read] = [next, nextRead];
      }
    }
    if (!read.ok) throw new Error(`the server's document does not read: ${read.why}`);
    this.#tree = tree;
    this.document = read.document;
    this.record = read.record;
    const settled = new Set(waiting.flatMap((act) => act.edits.flatMap((edit) => edit.settles ?? [])));
    this.conflicts = this.#base.conflicts.filter(({ editId }) => !settled.has(editId));
    this.refused = this.#entries.flatMap(({ act }) => (act.answer === undefined ? [] : [{ actId: actIdOf(act), changes: changesOf(act), words: act.answer.words, at: act.answer.at }]));
    const count = (how: Entry['how']): number => this.#entries.filter((entry) => entry.how === how && entry.act.answer === undefined).length;
    this.sendState = {
      waiting: waiting.length, keeping: count('keeping'), inMemory: count('in-memory'), reached: this.#keeper.reach === 'reached',
      refused: this.#entries.flatMap(({ act }) => (act.answer === undefined ? [] : [act.answer.words || act.answer.kind])).join('\n'),
    };
  }

  #tell(): void { if (!this.#closed) this.dispatchEvent(new Event('change')); }
}

/** What would take back an act that led to this tree. */
function undoOf(act: Act, tree: Tree): Undo {
  return { act, steps: act.inverse.map((change) => ({ change, left: findValue(tree, change.field) })) };
}

function changesOf({ edits }: Act): FieldChange[] {
  return edits.map(({ field, value, settles }) => ({ field, value, ...(settles === undefined ? {} : { settles }) }));
}

function isSamePath(one: readonly string[], other: readonly string[]): boolean {
  return one.length === other.length && one.every((step, index) => step === other[index]);
}

/**
 * The value without branches that hold nothing, which taking something back leaves behind, and without names: where somebody is signed
 * in, the server writes theirs beside a tick.
 */
function withoutEmpty(value: JsonValue): JsonValue {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const entries = Object.entries(value).map(([key, entry]): [string, JsonValue] => [key, withoutEmpty(entry)]).filter(([key, entry]) => entry !== null && key !== 'by');
  return entries.length === 0 ? null : Object.fromEntries(entries);
}
