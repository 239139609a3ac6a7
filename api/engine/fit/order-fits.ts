import type { FitFilter } from '../../../catalog-schema/index.ts';
import type { Supply } from '../source/index.ts';
import { compareText } from './compare-text.ts';
import type { Evaluated } from './evaluated.ts';

/**
 * In order of key, then id; among equals a superseded part after its successors, however far.
 * @param successorsOf the direct successors of a part of the catalogue, by id
 */
export function orderFits(evaluated: readonly Evaluated[], successorsOf: (id: string) => readonly string[]): Evaluated[] {
  const sorted = evaluated.toSorted((a, b) => a.key - b.key || compareText(a.part.id, b.part.id));
  const ordered: Evaluated[] = [];
  for (let from = 0; from < sorted.length;) {
    let to = from + 1;
    while (to < sorted.length && sorted[from]!.key === sorted[to]!.key) to++;
    for (const each of putSuccessorsFirst(sorted.slice(from, to), successorsOf)) ordered.push(each);
    from = to;
  }
  return ordered;
}

/** Those of an ordered list that the wishes keep. */
export function keepListed(ordered: readonly Evaluated[], { only, most }: { only?: FitFilter | undefined; most?: number | undefined }, supply: Supply | undefined): Evaluated[] {
  const wantedIds = only?.partIds && new Set(only.partIds);
  const kept = only === undefined ? ordered : ordered.filter(({ fit: { partId, verdict } }) => (wantedIds?.has(partId) ?? true)
    && (only.verdicts?.includes(verdict) ?? true)
    && (only.onShelf !== true || (supply?.freeOf(partId) ?? 0) > 0)
    && (only.supplierId === undefined || supply?.offers(partId, only.supplierId) === true));
  return kept.slice(0, most);
}

/** Equals in order of id, except that each waits for those of its successors that are among them. */
function putSuccessorsFirst(equals: readonly Evaluated[], successorsOf: (id: string) => readonly string[]): readonly Evaluated[] {
  if (equals.length < 2 || !equals.some(({ part }) => (part.supersededBy ?? []).length > 0)) return equals;
  const rankOf = new Map(equals.map(({ part }, rank) => [part.id, rank]));
  const waitsFor = equals.map(({ part }) => new Set(collectSuccessors(part.id, successorsOf).flatMap((id) => rankOf.get(id) ?? [])));
  const waiting = new Map<number, number[]>();
  waitsFor.forEach((ranks, rank) => {
    for (const each of ranks) waiting.set(each, [...(waiting.get(each) ?? []), rank]);
  });
  const ordered: Evaluated[] = [];
  // Whoever had to wait stands before those not yet come to, so it goes next.
  const place = (rank: number): void => {
    ordered.push(equals[rank]!);
    const freed = (waiting.get(rank) ?? []).filter((other) => waitsFor[other]!.delete(rank) && waitsFor[other]!.size === 0 && other < next);
    for (const other of freed) place(other);
  };
  let next = 0;
  for (; next < equals.length; next++) if (waitsFor[next]!.size === 0) place(next);
  return ordered;
}

/** All parts that stand, at whatever distance, behind a superseded one. */
function collectSuccessors(id: string, successorsOf: (id: string) => readonly string[]): string[] {
  const found = new Set<string>();
  const open = [...successorsOf(id)];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (found.has(next) || next === id) continue;
    found.add(next);
    open.push(...successorsOf(next));
  }
  return [...found];
}
