import type { BenchRecord, Part, Terminal, Wire } from '../../../catalog-schema/index.ts';

// Where a wire belongs on a new part, whether its end goes on there, and how many a terminal takes.

/** The new part's place for what sat on `wasOn`: a terminal id, 'case', or undefined where there is none. */
export function findSamePlace(record: BenchRecord, part: Part, wasOn: string): string | undefined {
  if (wasOn === 'case') return 'case';
  const old = (record.terminals ?? []).find((terminal) => terminal.id === wasOn);
  const byId = [...part.terminals].sort((a, b) => (a.id < b.id ? -1 : 1));
  if (old?.at) {
    const { at } = old;
    const distance = (terminal: Terminal) => (terminal.at!.xMm - at.xMm) ** 2 + (terminal.at!.yMm - at.yMm) ** 2;
    let nearest: Terminal | undefined;
    for (const terminal of byId) {
      if (terminal.form !== old.form || !terminal.at) continue;
      if (!nearest || distance(terminal) < distance(nearest)) nearest = terminal;
    }
    if (nearest) return nearest.id;
  }
  const equal = byId.find((terminal) => terminal.id === wasOn)
    ?? byId.find((terminal) => old?.marking && terminal.marking === old.marking);
  return equal?.id;
}

const TAB_PLAY_MM = 0.3;

/** Whether a wire needs a new end to go on `to`, its neighbours apart. */
export function needsNewEnd(wire: Wire, part: Part, to: string): boolean {
  const { end } = wire;
  if (!end) return false;
  if (to === 'case') return end.form !== 'ring';
  const terminal = part.terminals.find((one) => one.id === to)!;
  switch (end.form) {
    case 'ring': return !(terminal.form === 'stud' || terminal.form === 'screw');
    case 'bare': return !(terminal.form === 'lead' || terminal.form === 'pin' || terminal.form === 'screw');
    case 'receptacle':
      return terminal.form !== 'tab'
        || (terminal.tabWidthMm !== undefined && Math.abs(terminal.tabWidthMm - end.tabWidthMm) > TAB_PLAY_MM + 1e-9);
  }
}

/** How many wires a terminal takes, new ends included. */
export function capacityOf(part: Part, to: string): number {
  if (to === 'case') return Infinity;
  switch (part.terminals.find((one) => one.id === to)!.form) {
    case 'stud': case 'screw': case 'lead': return 4;
    case 'tab': case 'pin': return 2;
  }
}

/** New ends by tag for a whole hanging: each wire's own, and one for the second wire on a tab or pin. */
export function listNewEnds(wires: readonly Wire[], part: Part, hanging: ReadonlyMap<string, string | null>): Map<string, boolean> {
  const ends = new Map<string, boolean>();
  for (const wire of wires) {
    const to = hanging.get(wire.tag);
    if (typeof to === 'string') ends.set(wire.tag, needsNewEnd(wire, part, to));
  }
  for (const terminal of part.terminals) {
    if (terminal.form !== 'tab' && terminal.form !== 'pin') continue;
    const there = wires.filter((wire) => hanging.get(wire.tag) === terminal.id);
    if (there.length < 2 || there.some((wire) => ends.get(wire.tag))) continue;
    const later = there[there.length - 1]!;
    if (later.end) ends.set(later.tag, true);
  }
  return ends;
}
