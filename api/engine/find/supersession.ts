import { rankOf, type PartSource } from './part-source.ts';

export interface Successors {
  /** ids of the parts at the end of every line, sorted; more than one is a kit. The part itself where nobody superseded it, or where there is no end */
  readonly currentIds: string[];
  /** parts that supersede one another in a circle */
  readonly circle: string[];
  /** successors that are not in the catalogue */
  readonly missing: string[];
}

/** Follows every supersession of a part to its end. */
export function followSupersession(source: PartSource, rank: number): Successors {
  const current = new Set<string>();
  const missing = new Set<string>();
  const circle = new Set<string>();
  // 1 while what follows a part is being looked at, 2 after; with an own stack, since a line may be as long as the catalogue.
  const state = new Map<number, 1 | 2>();
  const stack: { rank: number; id: string; next: readonly string[]; at: number }[] = [];
  const enter = (each: number): void => {
    const { id, supersededBy } = source.namesAt(each);
    state.set(each, 1);
    stack.push({ rank: each, id, next: supersededBy, at: 0 });
  };
  enter(rank);
  const own = stack[0]!.id;
  while (stack.length > 0) {
    const top = stack.at(-1)!;
    const id = top.next[top.at++];
    if (id === undefined) {
      state.set(top.rank, 2);
      stack.pop();
      continue;
    }
    const next = rankOf(source, id);
    if (next === undefined) {
      missing.add(id);
      continue;
    }
    if (state.get(next) === 1) for (const { id: each } of stack.slice(stack.findIndex((open) => open.rank === next))) circle.add(each);
    if (state.has(next)) continue;
    enter(next);
  }
  for (const each of state.keys()) {
    const { id, supersededBy } = source.namesAt(each);
    if (supersededBy.every((next) => missing.has(next))) current.add(id);
  }
  return { currentIds: sorted(current.size === 0 ? [own] : current), circle: sorted(circle), missing: sorted(missing) };
}

function sorted(ids: Iterable<string>): string[] {
  return [...ids].sort();
}
