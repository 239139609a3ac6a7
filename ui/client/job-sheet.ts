import type { BenchRecord, JobDocument, JobEdit, JobState } from '../../catalog-schema/index.ts';
import { applyChanges, readTree, type Tree } from './apply-changes.ts';
import { ServiceFault, type Service } from './service.ts';
import type { ChangeResult, FieldChange, SendState, WorkSheet } from './work-sheet.ts';

/** One act of a person: the edits to send, and what would take it back. */
interface Act { readonly edits: readonly JobEdit[]; readonly inverse: readonly FieldChange[] }

/** What the sheet needs of the world, so that a test can bring its own. */
export interface SheetWorld {
  readonly now: () => Date;
  readonly newId: () => string;
  readonly author: () => string | undefined;
  /** runs later; returns what calls it off */
  readonly later: (work: () => void, ms: number) => () => void;
}

/** Pauses between tries while the server is not reached, ms; the last one repeats. */
export const RETRY_MS = [1_000, 3_000, 10_000, 30_000] as const;

/**
 * A job of the server's with the edits made here laid over it. An act shows at once, waits in memory until the server
 * has it, and is sent again as often as it takes: an edit's id makes a repeat harmless. What waits is lost when the
 * page is closed before it is sent.
 */
export class JobSheet extends EventTarget implements WorkSheet {
  readonly jobId: string;
  document!: JobDocument;
  record!: BenchRecord;
  sendState: SendState = { waiting: 0, reached: true, refused: '' };
  #service: Service;
  #world: SheetWorld;
  #base: JobState;
  #waiting: Act[] = [];
  #undo: (readonly FieldChange[])[] = [];
  #sending = false;
  #tries = 0;
  #callOff: () => void = () => {};
  #closed = false;

  constructor(state: JobState, service: Service, world: SheetWorld) {
    super();
    this.jobId = state.id;
    this.#base = state;
    this.#service = service;
    this.#world = world;
    this.#show();
  }

  get canUndo(): boolean { return this.#undo.length > 0; }
  get revision(): number { return this.#base.revision; }

  change(changes: readonly FieldChange[]): ChangeResult {
    const result = this.#act(changes);
    if (!result.ok) return result;
    this.#undo.push(result.inverse);
    this.#tell();
    return { ok: true };
  }

  undo(): void {
    const inverse = this.#undo.pop();
    if (inverse === undefined) return;
    this.#act(inverse);
    this.#tell();
  }

  /** Sends what waits now instead of at the next try. */
  sendNow(): void {
    this.#callOff();
    void this.#send();
  }

  /** Takes a newer state of the server's, made on another device; what waits here stays laid over it. */
  takeState(state: JobState): void {
    if (state.revision < this.#base.revision) return;
    this.#base = state;
    this.#show();
    this.#tell();
  }

  close(): void {
    this.#closed = true;
    this.#callOff();
  }

  #act(changes: readonly FieldChange[]): { ok: true; inverse: FieldChange[] } | { ok: false; why: string } {
    const applied = applyChanges(this.#tree(), changes);
    const read = readTree(applied.tree);
    if (!read.ok) return read;
    const at = this.#world.now().toISOString();
    const author = this.#world.author();
    this.#waiting.push({
      edits: changes.map((change) => ({
        id: this.#world.newId(), field: [...change.field], value: change.value, base: this.#base.revision, at,
        ...(author === undefined ? {} : { author }),
      })),
      inverse: applied.inverse,
    });
    this.#show();
    this.sendNow();
    return { ok: true, inverse: applied.inverse };
  }

  /** The server's document with everything that waits here on top. */
  #tree(): Tree {
    const base = this.#base.document as unknown as Tree;
    return applyChanges(base, this.#waiting.flatMap((act) => act.edits)).tree;
  }

  #show(): void {
    const read = readTree(this.#tree());
    if (!read.ok) throw new Error(`the job's document does not read: ${read.why}`);
    this.document = read.document;
    this.record = read.record;
    this.sendState = { ...this.sendState, waiting: this.#waiting.length };
  }

  #tell(): void { this.dispatchEvent(new Event('change')); }

  async #send(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    while (this.#waiting.length > 0 && !this.#closed) {
      const act = this.#waiting[0]!;
      try {
        const state = await this.#service.postEdits(this.jobId, act.edits);
        if (state.revision >= this.#base.revision) this.#base = state;
        this.#waiting.shift();
        this.#tries = 0;
        this.sendState = { ...this.sendState, reached: true };
      } catch (error) {
        if (error instanceof ServiceFault && (error.kind === 'refused' || error.kind === 'not-found')) {
          // The server will never take this one: it goes, and the person is told; what came after may still stand.
          this.#waiting.shift();
          this.#undo = this.#undo.filter((inverse) => inverse !== act.inverse);
          this.sendState = { ...this.sendState, reached: true, refused: error.detail || error.kind };
        } else {
          this.sendState = { ...this.sendState, reached: false };
          const pause = RETRY_MS[Math.min(this.#tries, RETRY_MS.length - 1)]!;
          this.#tries += 1;
          this.#callOff = this.#world.later(() => { void this.#send(); }, pause);
          break;
        }
      }
      this.#showOrDrop();
      this.#tell();
    }
    this.#sending = false;
    this.#tell();
  }

  /** After another device's edits came in, what waits here may no longer read on top of them: the oldest such act goes. */
  #showOrDrop(): void {
    for (;;) {
      const read = readTree(this.#tree());
      if (read.ok) return this.#show();
      const dropped = this.#waiting.shift();
      if (dropped === undefined) throw new Error(`the server's document does not read: ${read.why}`);
      this.sendState = { ...this.sendState, refused: read.why };
    }
  }
}
