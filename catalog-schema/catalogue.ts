import { z } from 'zod';
import { partSchema, type Part } from './part.ts';
import { wanted } from './scalar.ts';

export type Catalogue = readonly Part[];

/** A whole catalogue: unique part ids, every successor present, no supersession that leads back to its start. */
export const catalogueSchema = z.array(partSchema).check((context) => {
  const parts = context.value;
  const indexById = new Map<string, number>();
  parts.forEach((part, index) => {
    if (indexById.has(part.id)) context.issues.push(wanted(part.id, [index, 'id'], 'a part id that is not used twice'));
    else indexById.set(part.id, index);
  });
  for (const fault of findSupersessionFaults(parts)) {
    const index = indexById.get(fault.partId) ?? 0;
    context.issues.push(wanted(fault.successor, [index, 'supersededBy', fault.position],
      fault.kind === 'missing' ? 'the id of a part of this catalogue' : 'a successor that does not lead back to this part'));
  }
});

/** Links of supersession that cannot stand: to a part that is not there, or closing a cycle. */
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
