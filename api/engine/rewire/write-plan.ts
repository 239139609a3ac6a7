import type { Plan } from '../../../catalog-schema/index.ts';
import type { PartNames } from './circuit-shape.ts';
import type { Jumper } from './jumper-sets.ts';
import { FIRST_PART_NODE, type MachineSide } from './machine-side.ts';
import { nameNode, type PartSide } from './part-side.ts';
import type { PlanOutline } from './rewire-options.ts';
import { nameJumper, type FoundPlan } from './search.ts';
import { LEFT_OFF } from './wire-places.ts';

/** Wires and jumpers of a plan, by number. */
export interface HungWires {
  readonly to: ArrayLike<number>;
  readonly newEnd: ArrayLike<number>;
  readonly jumpers: readonly Jumper[];
  readonly changes: number;
}

/** A found plan as the contract writes it, in the part's own names. */
export function writePlan(machine: MachineSide, part: PartSide, names: PartNames, found: FoundPlan): Plan {
  const { placement: { to, newEnd }, jumpers, changes, verdict } = found;
  return {
    ...writeOutline(machine, part.same, names, { to, newEnd, jumpers, changes }),
    states: machine.states.filter((state) => state.listed).map((state, i) => ({
      startSwitch: state.startSwitch, interlocks: state.interlocks, engineRuns: state.engineRuns, ...verdict.listed[i]!,
    })),
  };
}

/** What of a plan does not hang on the part's numbers. */
export function writeOutline(
  { wires: hung }: Pick<MachineSide, 'wires'>, same: PartSide['same'], names: Pick<PartNames, 'nodes' | 'places'>, { to: places, newEnd, jumpers, changes }: HungWires,
): PlanOutline {
  const wires: Plan['wires'] = [];
  const leftOff: string[] = [];
  const taken = new Set<number>();
  hung.forEach((wire, w) => {
    const to = places[w]!;
    if (to === LEFT_OFF) {
      leftOff.push(wire.tag);
      return;
    }
    taken.add(FIRST_PART_NODE + to);
    wires.push({ tag: wire.tag, from: wire.wasOn, to: nameNode(names, FIRST_PART_NODE + to), moved: to !== same[w], newEnd: newEnd[w] === 1 });
  });
  for (const jumper of jumpers) taken.add(jumper.from).add(jumper.to);
  return {
    wires, leftOff, jumpers: jumpers.map((jumper) => nameJumper(names, jumper)),
    bareTerminals: names.places.filter((t) => !taken.has(FIRST_PART_NODE + t)).map((t) => nameNode(names, FIRST_PART_NODE + t)),
    changes,
  };
}
