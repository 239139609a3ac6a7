import { z } from 'zod';
import { nameParts, readInput, type Read } from './input-fault.ts';
import { partSchema, type Part } from './part.ts';
import { pushDuplicates, wanted } from './scalar.ts';
import { checkSound } from './sound-check.ts';

export type Catalogue = readonly Part[];

/** A whole catalogue: unique part ids, every successor present, no supersession that leads back to its start. */
export const catalogueSchema = z.array(partSchema).check(
  checkSound<Part[]>(['*.id'], (parts, issues) => {
    pushDuplicates(issues, parts, (part) => part.id, (index) => [index, 'id'], 'part id');
  }),
  checkSound<Part[]>(['*.id', '*.supersededBy'], (parts, issues) => {
    const indexById = new Map(parts.map((part, index) => [part.id, index]));
    for (const { partId, successor, position, kind } of findSupersessionFaults(parts)) {
      issues.push(wanted(successor, [indexById.get(partId) ?? 0, 'supersededBy', position], wantOfLink(kind)));
    }
  }),
);

/** What a link of supersession has to be. */
export function wantOfLink(kind: 'missing' | 'cycle'): string {
  switch (kind) {
    case 'missing': return 'the id of a part of this catalogue';
    case 'cycle': return 'a successor that does not lead back to this part';
    default: return kind satisfies never;
  }
}

/** Reads a whole catalogue or refuses it; faults carry the part's index and id. */
export function readCatalogue(value: unknown): Read<Catalogue> {
  const read = readInput(catalogueSchema, value);
  return read.ok ? read : { ok: false, faults: nameParts(read.faults, value) };
}

/**
 * Links of supersession that cannot stand: to a part that is not there, or closing a cycle.
 * Time and memory grow with parts plus links. Where an id is used twice, the last part of that id counts.
 */
export function findSupersessionFaults(
  parts: Catalogue,
): { partId: string; successor: string; position: number; kind: 'missing' | 'cycle' }[] {
  const byId = new Map(parts.map((part) => [part.id, part]));
  const faults: { partId: string; successor: string; position: number; kind: 'missing' | 'cycle' }[] = [];
  const state = new Map<string, 'open' | 'closed'>();
  // Depth first with an own stack: a chain of successors may be as long as the catalogue.
  for (const start of parts) {
    if (state.has(start.id)) continue;
    const stack: { part: Part; next: number }[] = [{ part: start, next: 0 }];
    state.set(start.id, 'open');
    while (stack.length > 0) {
      const top = stack[stack.length - 1]!;
      const position = top.next++;
      const successor = top.part.supersededBy?.[position];
      if (successor === undefined) {
        state.set(top.part.id, 'closed');
        stack.pop();
        continue;
      }
      const target = byId.get(successor);
      if (!target) faults.push({ partId: top.part.id, successor, position, kind: 'missing' });
      else if (state.get(successor) === 'open') faults.push({ partId: top.part.id, successor, position, kind: 'cycle' });
      else if (!state.has(successor)) {
        state.set(successor, 'open');
        stack.push({ part: target, next: 0 });
      }
    }
  }
  return faults;
}
