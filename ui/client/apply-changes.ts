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
 * What leads back from a change: the value that stood at its field, or that none did. Only that field is named, so that what
 * another device has put beside it meanwhile stays; a branch the change made may stay behind empty.
 */
function invertChange(tree: Readonly<Tree>, change: FieldChange): FieldChange {
  let at: JsonValue | undefined = tree as Tree;
  for (const step of change.field) at = isTree(at) ? at[step] : undefined;
  return { field: change.field, value: at === undefined ? null : structuredClone(at) };
}

function isTree(value: JsonValue | undefined): value is Tree {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
