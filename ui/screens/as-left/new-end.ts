import { readThread, type Part, type Plan, type Wire } from '../../../catalog-schema/index.ts';

/** A ring goes on a stud when its hole is wider than the thread by this much, mm (common practice, no source). */
const RING_OVER_STUD_MM = { least: 0.1, most: 1.5 } as const;
/** Sums of decimal tenths are a hair off in binary: a hole at the limit is at the limit. */
const HAIR_MM = 1e-9;

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
  const over = wire.end.holeMm - thread.majorMm;
  return over < RING_OVER_STUD_MM.least - HAIR_MM || over > RING_OVER_STUD_MM.most + HAIR_MM;
}
