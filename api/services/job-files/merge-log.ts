import { groupActs, isOverlap, type LoggedEdit } from '../../../catalog-schema/index.ts';

/** What is asked of an edit that is in the log here. */
export type LoggedPlace = Pick<LoggedEdit, 'id' | 'field'>;

/** An act of a file's log as it is offered to the log that is here. */
export interface OfferedAct {
  /** as though its maker had known of all here that has nothing to do with it */
  readonly edits: readonly LoggedEdit[];
  /** as though its maker had known only of what stands here before the first edit that is not in the file */
  readonly wary: readonly LoggedEdit[];
}

/**
 * The acts of a file's log that are not in the log here. `base` counts the edits that an edit's maker knew of, in the order of the log it
 * was made in; the same edits stand here in another order, with others between. So each base is put where it says the same: behind all
 * that the maker knew, and behind what has nothing to do with the edit, which it may as well have known. What the maker did not know and
 * what does touch it stays ahead of the base: there the log finds its conflicts.
 * @param here the log here; whoever takes an act in adds it
 */
export function* offerActs(file: readonly LoggedEdit[], here: readonly LoggedPlace[]): Generator<OfferedAct> {
  const places = new Map(file.map((edit, index) => [edit.id, index]));
  const present = new Set(here.map((edit) => edit.id));
  let place = 0;
  for (const act of groupActs(file)) {
    const first = place;
    place += act.length;
    const fresh = act.filter((edit) => !present.has(edit.id));
    if (fresh.length === 0) continue;
    // An act of which something is here already was taken in as far as it counts; the rest stands by itself.
    const edits = fresh.length === act.length ? fresh : fresh.map(({ act: _act, ...edit }) => edit);
    const knows = (edit: LoggedEdit, other: LoggedPlace): boolean => {
      const at = places.get(other.id);
      return at !== undefined && at < Math.min(edit.base, first);
    };
    const baseOf = (edit: LoggedEdit, mayPass: (other: LoggedPlace) => boolean): number => {
      const stop = here.findIndex((other) => !knows(edit, other) && !mayPass(other));
      return stop < 0 ? here.length : stop;
    };
    yield {
      edits: edits.map((edit) => ({ ...edit, base: baseOf(edit, (other) => !edits.some((mine) => mayMeet(mine, other))) })),
      wary: edits.map((edit) => ({ ...edit, base: baseOf(edit, () => false) })),
    };
  }
}

/** Whether two edits that did not know of each other may be in each other's way. */
function mayMeet(a: LoggedEdit, b: LoggedPlace): boolean {
  return a.field[0] === 'signedOff' || b.field[0] === 'signedOff' || isOverlap(a.field, b.field);
}
