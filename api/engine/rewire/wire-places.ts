import type { RecordTerminal, Terminal } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { MachineSide, MachineWire } from './machine-side.ts';
import type { PartSide } from './part-side.ts';

/** Left off, its end insulated; only a chassis wire may be. */
export const LEFT_OFF = -1;

/** One place a wire may go to, and what that costs. */
export interface WirePlace {
  /** terminal index; the number of terminals is the case; LEFT_OFF */
  readonly to: number;
  readonly moved: boolean;
  readonly newEnd: boolean;
}

/** How many wires a terminal takes. */
export function capacityOf(terminal: { readonly form: Terminal['form'] }): number {
  switch (terminal.form) {
    case 'stud': case 'screw': case 'lead': return 4;
    case 'tab': case 'pin': return 2;
    default: return refuseForm(terminal.form);
  }
}

/** On these a second wire has no room for its old end. */
export function takesOneEnd(terminal: { readonly form: Terminal['form'] }): boolean {
  return terminal.form === 'tab' || terminal.form === 'pin';
}

/**
 * The place on the new part that answers to the one a wire was on: of the same form the nearest, where both parts say where their
 * terminals sit; else the terminal of the same id, else of the same marking. Ties by id.
 * @returns terminal index, the number of terminals for the case, or undefined
 */
export function findSamePlace(wire: MachineWire, terminals: readonly Terminal[]): number | undefined {
  if (wire.wasOn === 'case') return terminals.length;
  const old = wire.oldTerminal;
  const nearest = old && findNearest(old, terminals);
  if (nearest !== undefined) return nearest;
  const equalId = terminals.findIndex((terminal) => terminal.id === wire.wasOn);
  if (equalId >= 0) return equalId;
  const marking = old?.marking;
  if (marking === undefined || marking === '') return undefined;
  return firstById(terminals, (terminal) => terminal.marking === marking);
}

/** Every place for every wire of the record, in its order; a wire's same place first where it has one. */
export function listPlaces(machine: Pick<MachineSide, 'wires'>, part: Pick<PartSide, 'terminals' | 'same'>): WirePlace[][] {
  const { terminals } = part;
  return machine.wires.map((wire, w) => {
    const same = part.same[w];
    const places: WirePlace[] = terminals.map((terminal, to) => ({ to, moved: to !== same, newEnd: needsNewEnd(wire, terminal) }));
    if (wire.role === 'chassis') {
      const to = terminals.length;
      places.push({ to, moved: to !== same, newEnd: needsNewEndOnCase(wire) });
      places.push({ to: LEFT_OFF, moved: false, newEnd: false });
    }
    return places;
  });
}

/** Under a bolt of the bracket goes a ring. */
export function needsNewEndOnCase({ end }: MachineWire): boolean {
  return end !== undefined && end.form !== 'ring';
}

export function needsNewEnd({ end }: MachineWire, terminal: { readonly form: Terminal['form']; readonly tabWidthMm?: number | undefined }): boolean {
  if (end === undefined) return false;
  switch (end.form) {
    case 'ring': return terminal.form !== 'stud' && terminal.form !== 'screw';
    case 'receptacle':
      return terminal.form !== 'tab'
        || (terminal.tabWidthMm !== undefined && Math.abs(terminal.tabWidthMm - end.tabWidthMm) > settingOf('tabWidthMm') + 1e-9);
    case 'bare': return terminal.form !== 'lead' && terminal.form !== 'pin' && terminal.form !== 'screw';
    default: return refuseForm(end);
  }
}

function findNearest(old: RecordTerminal, terminals: readonly Terminal[]): number | undefined {
  const from = old.at;
  if (from === undefined) return undefined;
  let best: number | undefined;
  let bestMm = Infinity;
  terminals.forEach((terminal, index) => {
    if (terminal.form !== old.form || terminal.at === undefined) return;
    const mm = Math.hypot(terminal.at.xMm - from.xMm, terminal.at.yMm - from.yMm);
    // Distances that differ by rounding alone are a tie.
    const tie = Math.abs(mm - bestMm) <= 1e-9;
    if (best === undefined || (!tie && mm < bestMm) || (tie && terminal.id < terminals[best]!.id)) {
      best = index;
      bestMm = mm;
    }
  });
  return best;
}

function firstById(terminals: readonly Terminal[], isWanted: (terminal: Terminal) => boolean): number | undefined {
  let best: number | undefined;
  terminals.forEach((terminal, index) => {
    if (isWanted(terminal) && (best === undefined || terminal.id < terminals[best]!.id)) best = index;
  });
  return best;
}

function refuseForm(form: never): never {
  throw new TypeError(`unknown form ${JSON.stringify(form)}`);
}
