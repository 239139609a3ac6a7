import { isRingGap, readThread, type Part, type Plan, type Wire } from '../../../catalog-schema/index.ts';

/**
 * Does a wire need a new end at its new place? The plan says so by the form of the end; a ring of the right form may still have
 * the wrong hole for the stud. A stud whose thread is not known leaves it to the plan.
 */
export function needsNewEnd(wire: Wire, placed: Plan['wires'][number], part: Part): boolean {
  if (placed.newEnd) return true;
  const terminal = part.terminals.find((entry) => entry.id === placed.to);
  if (wire.end?.form !== 'ring' || terminal?.thread === undefined) return false;
  const thread = readThread(terminal.thread);
  if (thread === undefined) return false;
  return !isRingGap(wire.end.holeMm - thread.majorMm);
}
