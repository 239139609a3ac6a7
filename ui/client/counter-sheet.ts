import type { BenchRecord, JobDocument } from '../../catalog-schema/index.ts';
import { applyChanges, readTree, type Tree } from './apply-changes.ts';
import type { ChangeResult, FieldChange, SendState, WorkSheet } from './work-sheet.ts';

/** A sheet at the counter: nothing is sent; it lives as long as the page does, unless it is made a job. */
export class CounterSheet extends EventTarget implements WorkSheet {
  readonly jobId = undefined;
  readonly device = undefined;
  readonly sendState: SendState = { waiting: 0, keeping: 0, inMemory: 0, reached: true, refused: '' };
  readonly conflicts = [];
  readonly refused = [];
  document: JobDocument;
  record: BenchRecord;
  #tree: Tree;
  #undo: FieldChange[][] = [];

  constructor(tree: Tree) {
    super();
    const read = readTree(tree);
    if (!read.ok) throw new Error(`a counter sheet must start from a document that reads: ${read.why}`);
    this.#tree = tree;
    this.document = read.document;
    this.record = read.record;
  }

  get canUndo(): boolean { return this.#undo.length > 0; }

  change(changes: readonly FieldChange[]): ChangeResult {
    const applied = applyChanges(this.#tree, changes);
    const result = this.#take(applied.tree);
    if (result.ok) {
      this.#undo.push(applied.inverse);
      this.dispatchEvent(new Event('change'));
    }
    return result;
  }

  undo(): void {
    const inverse = this.#undo.pop();
    if (inverse === undefined) return;
    this.#take(applyChanges(this.#tree, inverse).tree);
    this.dispatchEvent(new Event('change'));
  }

  // Nothing is sent, so nothing is held or refused.
  settle(): ChangeResult { return { ok: true }; }
  mendRefused(): ChangeResult { return { ok: true }; }
  dropRefused(): void {}

  close(): void { this.#undo = []; }

  #take(tree: Tree): ChangeResult {
    const read = readTree(tree);
    if (!read.ok) return read;
    this.#tree = tree;
    this.document = read.document;
    this.record = read.record;
    return { ok: true };
  }
}
