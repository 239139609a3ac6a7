import type { JsonValue } from './job-edit.ts';

/** A path into a job's document. */
export type FieldPath = readonly string[];
type Tree = { readonly [key: string]: JsonValue };

/** One path is the other or leads to it: an edit of one touches the other. */
export function isOverlap(one: FieldPath, other: FieldPath): boolean {
  const shorter = Math.min(one.length, other.length);
  for (let step = 0; step < shorter; step++) if (one[step] !== other[step]) return false;
  return true;
}

/** What stands at a path; null where nothing does, as an edit would write it. */
export function findValue(value: JsonValue | undefined, path: FieldPath): JsonValue {
  let at: JsonValue | undefined = value;
  for (const step of path) {
    if (!isTree(at) || !Object.hasOwn(at, step)) return null;
    at = at[step];
  }
  return at ?? null;
}

/** Two values that mean the same: the order of an object's keys says nothing. */
export function isSameValue(one: JsonValue | undefined, other: JsonValue | undefined): boolean {
  if (one === other || (one ?? null) === (other ?? null)) return true;
  if (Array.isArray(one)) return Array.isArray(other) && one.length === other.length && one.every((entry, index) => isSameValue(entry, other[index]));
  if (!isTree(one) || !isTree(other)) return false;
  const keys = Object.keys(one);
  return keys.length === Object.keys(other).length && keys.every((key) => Object.hasOwn(other, key) && isSameValue(one[key], other[key]));
}

export function isTree(value: JsonValue | undefined): value is Tree {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
