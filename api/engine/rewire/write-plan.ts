import type { Plan } from '../../../catalog-schema/index.ts';
import type { PartNames } from './circuit-shape.ts';
import { FIRST_PART_NODE, type MachineSide } from './machine-side.ts';
import { nameNode, type PartSide } from './part-side.ts';
import { nameJumper, type FoundPlan } from './search.ts';
import { LEFT_OFF } from './wire-places.ts';

/** A found plan as the contract writes it, in the part's own names. */
export function writePlan(machine: MachineSide, part: PartSide, names: PartNames, found: FoundPlan): Plan {
  const { placement, jumpers, verdict } = found;
  const wires: Plan['wires'] = [];
  const leftOff: string[] = [];
  const taken = new Set<number>();
  machine.wires.forEach((wire, w) => {
    const to = placement.to[w]!;
    if (to === LEFT_OFF) {
      leftOff.push(wire.tag);
      return;
    }
    taken.add(FIRST_PART_NODE + to);
    wires.push({
      tag: wire.tag, from: wire.wasOn, to: nameNode(names, FIRST_PART_NODE + to),
      moved: to !== part.same[w], newEnd: placement.newEnd[w] === 1,
    });
  });
  for (const jumper of jumpers) taken.add(jumper.from).add(jumper.to);
  return {
    wires, leftOff, jumpers: jumpers.map((jumper) => nameJumper(names, jumper)),
    bareTerminals: names.places.filter((t) => !taken.has(FIRST_PART_NODE + t)).map((t) => nameNode(names, FIRST_PART_NODE + t)),
    changes: found.changes,
    states: machine.states.filter((state) => state.listed).map((state, i) => ({
      startSwitch: state.startSwitch, interlocks: state.interlocks, engineRuns: state.engineRuns, ...verdict.listed[i]!,
    })),
  };
}
