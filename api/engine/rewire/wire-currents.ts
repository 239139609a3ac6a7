import { shareTieCurrents } from '../circuit/index.ts';
import type { Jumper } from './jumper-sets.ts';
import { CHASSIS, FIRST_PART_NODE, INTERLOCKED_RETURN, type MachineSide } from './machine-side.ts';
import type { PartSide } from './part-side.ts';
import { LEFT_OFF } from './wire-places.ts';

/** Where everything without resistance sits. */
export interface Ties {
  /** for each wire terminal index, the number of terminals for the case, or LEFT_OFF */
  readonly to: ArrayLike<number>;
  readonly jumpers: readonly Jumper[];
  /** the case is joined to chassis by the panel */
  readonly panelTied: boolean;
}

/** A current equal to its limit but for rounding is within it. */
export function isOverLimit(amps: number, limitA: number): boolean {
  return Math.abs(amps) > limitA * (1 + 1e-9);
}

/**
 * Wires (by index) and jumpers (after the wires) whose current is limited: all but battery and starter, and but what takes the place of the
 * starter's cable, the lead from an own motor's other end to chassis.
 */
export function listLimited(machine: MachineSide, part: PartSide, { to, jumpers }: Ties): number[] {
  const other = part.ownMotor?.other;
  const wires = machine.wires.flatMap((wire, w) => {
    if (wire.role === 'battery' || wire.role === 'starter' || to[w] === LEFT_OFF) return [];
    const at = FIRST_PART_NODE + to[w]!;
    return wire.role === 'chassis' && at === other ? [] : [w];
  });
  return wires.concat(jumpers.flatMap((jumper, j) => (
    other !== undefined && (jumper.from === other || jumper.to === other) ? [] : [machine.wires.length + j])));
}

/** What each wire of the record and then each jumper carries (a wire: towards the part), A. `drawnA` is overwritten. */
export function findWireAmps(
  machine: MachineSide, part: PartSide, { to, jumpers, panelTied }: Ties, position: number, drawnA: Float64Array,
): Float64Array {
  const from: number[] = [];
  const end: number[] = [];
  for (let w = 0; w < machine.wires.length; w++) {
    const leadsTo = machine.wires[w]!.leadsTo;
    from.push(leadsTo);
    // A tie from its point to itself carries nothing: a wire left off, and a take-off beside the battery wire, which has no load here.
    const idle = to[w] === LEFT_OFF || (machine.wires[w]!.role === 'tap' && machine.wires.some((wire, b) => wire.role === 'battery' && to[b] === to[w]));
    end.push(idle ? leadsTo : FIRST_PART_NODE + to[w]!);
  }
  for (const jumper of jumpers) {
    from.push(jumper.from);
    end.push(jumper.to);
  }
  if (panelTied) {
    from.push(CHASSIS);
    end.push(part.caseNode);
  }
  if (machine.positions[position]!.returnClosed) {
    from.push(CHASSIS);
    end.push(INTERLOCKED_RETURN);
  }
  return shareTieCurrents(from, end, from.length, drawnA);
}
