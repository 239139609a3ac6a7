import type { Catalogue, Fit, Part, Verdict } from '../../../catalog-schema/index.ts';
import type { Finding, Notes } from './finding.ts';
import type { PartFacts } from './part-facts.ts';

/** One part with all that was found out about it. */
export interface Evaluated {
  readonly fit: Fit;
  readonly part: Part;
  readonly facts: PartFacts;
  readonly findings: readonly Finding[];
  readonly notes: Notes;
  /** of work, all checks together */
  readonly minutes: number;
}

const RANK: Readonly<Record<Verdict, number>> = { direct: 0, adapt: 1, unproven: 2, no: 3 };

/** By verdict, then least work, then id; a superseded part comes after its successors where all else is equal. */
export function orderFits(evaluated: readonly Evaluated[], catalogue: Catalogue): Evaluated[] {
  const sorted = evaluated.toSorted((a, b) => compareWithoutId(a, b) || compareText(a.part.id, b.part.id));
  const successors = collectSuccessors(catalogue);
  const ordered: Evaluated[] = [];
  for (let from = 0; from < sorted.length;) {
    let to = from + 1;
    while (to < sorted.length && compareWithoutId(sorted[from]!, sorted[to]!) === 0) to++;
    ordered.push(...putSuccessorsFirst(sorted.slice(from, to), successors));
    from = to;
  }
  return ordered;
}

/** Code unit order: alike on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function compareWithoutId(a: Evaluated, b: Evaluated): number {
  return RANK[a.fit.verdict] - RANK[b.fit.verdict] || Math.round(a.minutes * 1000) - Math.round(b.minutes * 1000);
}

/** Equals in order of id, except that each waits for those of its successors that are among them. */
function putSuccessorsFirst(equals: readonly Evaluated[], successors: ReadonlyMap<string, ReadonlySet<string>>): Evaluated[] {
  if (!equals.some(({ part }) => successors.has(part.id))) return [...equals];
  const waiting = [...equals];
  const ordered: Evaluated[] = [];
  while (waiting.length > 0) {
    const ids = new Set(waiting.map(({ part }) => part.id));
    const free = waiting.findIndex(({ part }) => ![...(successors.get(part.id) ?? [])].some((id) => ids.has(id)));
    // A cycle is refused on reading; should one get here, ids decide.
    ordered.push(...waiting.splice(Math.max(0, free), 1));
  }
  return ordered;
}

/** All parts that stand, at whatever distance, behind a superseded one. */
function collectSuccessors(catalogue: Catalogue): Map<string, Set<string>> {
  const direct = new Map(catalogue.filter(({ supersededBy }) => (supersededBy ?? []).length > 0).map((part) => [part.id, part.supersededBy!]));
  const all = new Map<string, Set<string>>();
  for (const id of direct.keys()) {
    const found = new Set<string>();
    const open = [...direct.get(id)!];
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      if (found.has(next) || next === id) continue;
      found.add(next);
      open.push(...(direct.get(next) ?? []));
    }
    all.set(id, found);
  }
  return all;
}
