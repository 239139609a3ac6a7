import { LIMITS, type JobPhotograph, type JsonValue, type PhotographMark, type PhotographThing } from '../../../catalog-schema/index.ts';
import type { FieldChange } from '../../client/index.ts';

export type By = PhotographThing['by'];
/** What the next mark on the picture is. */
export type Tool =
  | { readonly kind: 'edges' }
  | { readonly kind: 'hole'; readonly by: By }
  | { readonly kind: 'terminal'; readonly by: By; readonly id: string }
  | { readonly kind: 'length' };

/** The fewest marks that make a thing. */
export const LEAST_MARKS: Readonly<Record<By, number>> = { middle: 1, across: 2, rim: 3 };

/** What one more mark changes, and the edge or thing it belongs to; no change where nothing more can be marked. */
export interface Put { readonly changes: readonly FieldChange[]; readonly key: string | undefined }

/**
 * One more mark with a tool. An edge takes two, then the next one begins; a fifth begins anew the edge that was not found.
 * `openKey` is the thing that was being marked, so that a rim goes on until the next thing is asked for.
 * @param missed edges in which the picture shows none
 */
export function putMark(given: {
  hash: string; photograph: JobPhotograph; tool: Tool; mark: PhotographMark; openKey: string | undefined; missed: readonly string[]; newKey: () => string;
}): Put {
  const { hash, photograph, tool, mark, openKey, missed, newKey } = given;
  const set = (list: 'edges' | 'things', key: string, rest: readonly string[], value: unknown): Put =>
    ({ key, changes: [{ field: ['photographs', hash, list, key, ...rest], value: value as JsonValue }] });
  if (tool.kind === 'edges') {
    const edges = Object.entries(photograph.edges ?? {});
    const half = edges.find(([, { marks }]) => marks.length === 1);
    if (half) return set('edges', half[0], ['marks'], [...half[1].marks, mark]);
    const [again] = missed;
    if (again !== undefined && photograph.edges?.[again]) return set('edges', again, ['marks'], [mark]);
    return edges.length < 4 ? set('edges', newKey(), [], { marks: [mark] }) : { changes: [], key: undefined };
  }
  const by = tool.kind === 'length' ? 'across' : tool.by;
  const key = tool.kind === 'terminal' ? terminalKey(tool.id) : openKey;
  const thing = key === undefined ? undefined : photograph.things?.[key];
  const most = by === 'rim' ? LIMITS.photographMarks : LEAST_MARKS[by];
  const goesOn = thing !== undefined && thing.what === tool.kind && thing.by === by && thing.marks.length < most && (tool.kind !== 'terminal' || openKey === key);
  if (goesOn) return set('things', key!, ['marks'], [...thing.marks, mark]);
  const adds = tool.kind !== 'terminal' || thing === undefined;
  if (adds && Object.keys(photograph.things ?? {}).length >= LIMITS.photographThings) return { changes: [], key: undefined };
  const made: PhotographThing = { what: tool.kind, by, marks: [mark], ...(tool.kind === 'terminal' ? { terminal: tool.id } : {}) };
  return set('things', tool.kind === 'terminal' ? terminalKey(tool.id) : newKey(), [], made);
}

/** A terminal is marked once, by whichever device. */
export function terminalKey(id: string): string { return `terminal ${id}`; }

/** Marks as the board shows them are named by list, entry and place in it. */
export function markId(list: 'edges' | 'things', key: string, index: number): string { return JSON.stringify([list, key, index]); }

/** What moving a mark changes; nothing where the mark is there no more. */
export function moveMark(hash: string, photograph: JobPhotograph, id: string, mark: PhotographMark): readonly FieldChange[] {
  const [list, key, index] = JSON.parse(id) as ['edges' | 'things', string, number];
  const marks = photograph[list]?.[key]?.marks;
  if (marks === undefined || index >= marks.length) return [];
  return [{ field: ['photographs', hash, list, key, 'marks'], value: marks.with(index, mark) as unknown as JsonValue }];
}

export function removeEntry(hash: string, list: 'edges' | 'things', key: string): readonly FieldChange[] {
  return [{ field: ['photographs', hash, list, key], value: null }];
}
