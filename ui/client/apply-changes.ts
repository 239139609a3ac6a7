import {
  applyEdit, printFault, readJobDocument, type BenchRecord, type JobDocument, type JsonValue,
} from '../../catalog-schema/index.ts';
import type { FieldChange } from './work-sheet.ts';

export type Tree = { [key: string]: JsonValue };

/** The tree after the changes, and the changes that would lead back. Neither argument is changed. */
export function applyChanges(tree: Readonly<Tree>, changes: readonly FieldChange[]): { tree: Tree; inverse: FieldChange[] } {
  let next: Tree = { ...tree };
  const inverse: FieldChange[] = [];
  for (const change of changes) {
    inverse.unshift(invertChange(next, change));
    next = applyEdit(next, { field: [...change.field], value: change.value });
  }
  return { tree: next, inverse };
}

/** A tree that reads, as document and record; else the first fault in words. */
export function readTree(tree: Readonly<Tree>):
  { ok: true; document: JobDocument; record: BenchRecord } | { ok: false; why: string } {
  const read = readJobDocument(tree);
  if (read.ok) return read;
  return { ok: false, why: read.faults.map(printFault).join('\n') };
}

/**
 * What leads back from a change: the value that stood there. Where the change makes a branch that was not there,
 * the highest new branch goes, so that an undo leaves no empty object behind.
 */
function invertChange(tree: Readonly<Tree>, change: FieldChange): FieldChange {
  let at: JsonValue | undefined = tree as Tree;
  for (let depth = 0; depth < change.field.length; depth += 1) {
    const below: JsonValue | undefined = isTree(at) ? at[change.field[depth]!] : undefined;
    if (below === undefined) return { field: change.field.slice(0, depth + 1), value: null };
    at = below;
  }
  return { field: change.field, value: structuredClone(at) };
}

function isTree(value: JsonValue | undefined): value is Tree {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
