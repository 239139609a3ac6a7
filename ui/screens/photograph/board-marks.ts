import type { JobPhotograph, PhotographMark, PhotographThing } from '../../../catalog-schema/index.ts';
import type { MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import type { LengthUnit } from '../../client/index.ts';
import type { Spot } from '../../elements/marking-board/board-view.ts';
import type { BoardLine, BoardMark } from '../../elements/marking-board/draw-board.ts';
import { formatLength } from '../../format.ts';
import { markId } from './mark-changes.ts';

/** Things of one kind, numbered in the order in which they were made. */
export function numberThings(photograph: JobPhotograph, what: PhotographThing['what']): Map<string, number> {
  return new Map(Object.entries(photograph.things ?? {}).filter(([, thing]) => thing.what === what).map(([key], k) => [key, k + 1]));
}

/** The edges by number: around the card once it is found, else as they were made. */
export function numberEdges(photograph: JobPhotograph, measured: MeasuredPhotograph | undefined): Map<string, number> {
  const made = Object.keys(photograph.edges ?? {});
  const order = (measured?.order ?? []).filter((key) => made.includes(key));
  return new Map([...order, ...made.filter((key) => !order.includes(key))].map((key, k) => [key, k + 1]));
}

/** All marks of a photograph for the board, those of a thing with its name at the first. */
export function marksOf(photograph: JobPhotograph): BoardMark[] {
  const holes = numberThings(photograph, 'hole');
  const place = (list: 'edges' | 'things', key: string, marks: readonly PhotographMark[], label?: string): BoardMark[] =>
    marks.map(({ xPx, yPx }, k) => ({ id: markId(list, key, k), x: xPx, y: yPx, ...(k === 0 && label !== undefined ? { label } : {}) }));
  return [
    ...Object.entries(photograph.edges ?? {}).flatMap(([key, { marks }]) => place('edges', key, marks)),
    ...Object.entries(photograph.things ?? {}).flatMap(([key, { what, terminal, marks }]) =>
      place('things', key, marks, what === 'hole' ? String(holes.get(key)) : what === 'terminal' ? terminal : undefined)),
  ];
}

/** The card's edges as they were found or missed, lengths between marks, and the spacing from each hole to the next. */
export function linesOf(photograph: JobPhotograph, measured: MeasuredPhotograph | undefined, unit: LengthUnit): BoardLine[] {
  const edges = numberEdges(photograph, measured);
  const lines: BoardLine[] = Object.entries(photograph.edges ?? {}).flatMap(([key, { marks }]): BoardLine[] => {
    const edge = measured?.edges[key];
    if (edge === undefined || marks.length < 2) return [];
    return [edge.ok ? { ...edge.value, look: 'found', label: String(edges.get(key)) } : { from: spotOf(marks[0]!), to: spotOf(marks[1]!), look: 'missed' }];
  });
  for (const [key, thing] of Object.entries(photograph.things ?? {})) {
    if (thing.by !== 'across' || thing.marks.length < 2) continue;
    const found = measured?.things[key];
    const label = thing.what === 'length' && found?.ok && found.value.acrossMm ? { label: formatLength(found.value.acrossMm.value, unit) } : {};
    lines.push({ from: spotOf(thing.marks[0]!), to: spotOf(thing.marks[1]!), look: 'taken', ...label });
  }
  for (const { a, b, length } of spacingsAround(measured?.spacings ?? [])) {
    const [from, to] = [middleOf(photograph.things?.[a]), middleOf(photograph.things?.[b])];
    if (from && to && length.ok) lines.push({ from, to, look: 'spacing', label: formatLength(length.value.value, unit) });
  }
  return lines;
}

/** Of up to four holes every spacing, of more the one from each to the next: the others say nothing new that one could take in. */
export function spacingsShown(measured: MeasuredPhotograph | undefined): MeasuredPhotograph['spacings'] {
  const spacings = measured?.spacings ?? [];
  return countHoles(spacings) <= 4 ? spacings : spacingsAround(spacings);
}

/** The spacing from each hole to the next, and from the last to the first. */
function spacingsAround(spacings: MeasuredPhotograph['spacings']): MeasuredPhotograph['spacings'] {
  const holes = [...new Set(spacings.flatMap(({ a, b }) => [a, b]))];
  const next = new Map(holes.map((key, k) => [key, holes[(k + 1) % holes.length]]));
  return spacings.filter(({ a, b }) => next.get(a) === b || next.get(b) === a);
}

function countHoles(spacings: MeasuredPhotograph['spacings']): number {
  return new Set(spacings.flatMap(({ a, b }) => [a, b])).size;
}

function spotOf({ xPx, yPx }: PhotographMark): Spot { return { x: xPx, y: yPx }; }

function middleOf(thing: PhotographThing | undefined): Spot | undefined {
  if (thing === undefined || thing.marks.length === 0) return undefined;
  const sum = thing.marks.reduce((total, { xPx, yPx }) => ({ x: total.x + xPx, y: total.y + yPx }), { x: 0, y: 0 });
  return { x: sum.x / thing.marks.length, y: sum.y / thing.marks.length };
}
