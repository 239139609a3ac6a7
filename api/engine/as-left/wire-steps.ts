import type { LeadsTo, Wire } from '../../../catalog-schema/index.ts';
import type { StepFacts } from './step-facts.ts';
import { needsNewEnd } from './new-end.ts';
import type { MadeStep } from './step.ts';
import { nameStep } from './step-id.ts';
import { findTorque } from './torque.ts';

/** In which order wires go on: the heavy feed from the battery last (common practice, no source). */
const WIRE_ORDER: readonly LeadsTo[] = ['starter', 'chassis', 'interlocked-return', 'start-switch', 'cranking-feed', 'unknown', 'tap', 'battery'];

/** One step for each wire, those of one stud together; then the wires that stay off. */
export function makeWireSteps({ record, plan, part }: StepFacts): MadeStep[] {
  const wires = record.wires ?? [];
  if (plan === null) return wires.map((wire) => ({ id: nameStep('wire', wire.tag), kind: 'wire-unplanned', required: true, wire }));
  const placed = plan.wires.flatMap((entry) => {
    const wire = wires.find((known) => known.tag === entry.tag);
    return wire === undefined ? [] : [{ entry, wire }];
  });
  const rank = (wire: Wire): number => WIRE_ORDER.indexOf(wire.leadsTo ?? 'unknown');
  const terminals = [...new Set(placed.toSorted((a, b) => rank(a.wire) - rank(b.wire)).map(({ entry }) => entry.to))];
  const steps = terminals.flatMap((to): MadeStep[] => {
    // On one stud the widest lug lies on the seat.
    const here = placed.filter(({ entry }) => entry.to === to).toSorted((a, b) => (b.wire.areaMm2 ?? 0) - (a.wire.areaMm2 ?? 0));
    const stack = here.map(({ wire }) => wire.tag);
    const jumpers = plan.jumpers.filter((jumper) => jumper.from === to || jumper.to === to).length;
    const torque = findTorque(to, part);
    return here.map(({ entry, wire }, index) => ({
      id: nameStep('wire', wire.tag), kind: 'wire', required: true, wire, to, moved: entry.moved, newEnd: needsNewEnd(wire, entry, part), stack,
      tighten: index === here.length - 1 && jumpers === 0 ? torque : null, torque, jumpers,
    }));
  });
  const off = plan.leftOff.flatMap((tag) => wires.filter((wire) => wire.tag === tag));
  return [...steps, ...off.map((wire): MadeStep => ({ id: nameStep('off', wire.tag), kind: 'leave-off', required: true, wire }))];
}

/** Jumpers come after the wires; a stud's nut is tightened with the last jumper that lies on it. */
export function makeJumperSteps({ plan, part }: StepFacts): MadeStep[] {
  const jumpers = plan?.jumpers ?? [];
  return jumpers.map((jumper, index) => ({
    id: `jumper-${index + 1}`, kind: 'jumper', required: true, from: jumper.from, to: jumper.to,
    tighten: [jumper.from, jumper.to].flatMap((terminal) => {
      const later = jumpers.slice(index + 1).some((other) => other.from === terminal || other.to === terminal);
      const torque = later ? null : findTorque(terminal, part);
      return torque === null ? [] : [{ terminal, torque }];
    }),
  }));
}

/** The new terminal that the wire with this duty goes on; undefined where the plan does not say. */
export function findPlace({ record, plan }: Pick<StepFacts, 'record' | 'plan'>, leadsTo: LeadsTo): string | undefined {
  const tags = (record.wires ?? []).filter((wire) => wire.leadsTo === leadsTo).map((wire) => wire.tag);
  return plan?.wires.find((entry) => tags.includes(entry.tag))?.to;
}
