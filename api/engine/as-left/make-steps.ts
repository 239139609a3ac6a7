import type { Wire } from '../../../catalog-schema/index.ts';
import { writeWiring } from './choice.ts';
import { fingerprintOf } from './fingerprint.ts';
import { makeColdReadings, makeLiveReadings, makeStandingReading } from './reading-steps.ts';
import type { StepFacts } from './step-facts.ts';
import { nameStep } from './step-id.ts';
import type { AsLeftStep, MadeStep, StepWork } from './step.ts';
import { findPlace, makeJumperSteps, makeWireSteps } from './wire-steps.ts';

/**
 * The steps from the battery's minus off to the last interlock test, in order. Pure: the same facts give the same steps with the
 * same ids, so that a tick holds across devices.
 */
export function makeSteps(facts: StepFacts): AsLeftStep[] {
  const { record, plan, kit, placement, part } = facts;
  const made: MadeStep[] = [
    { id: 'battery-off', kind: 'battery-off', required: true },
    { id: 'remove', kind: 'remove', required: true },
    ...(kit.length === 0 ? [] : [{ id: 'make-ready', kind: 'make-ready' as const, required: true, kit }]),
    ...makeColdReadings(facts),
    ...(placement?.newHoles ?? []).map((hole, index) => ({ id: `drill-${index + 1}`, kind: 'drill' as const, required: true, hole })),
    {
      id: 'mount', kind: 'mount', required: true, bolts: record.mounting?.holes.length ?? 0,
      rotationDeg: placement?.rotationDeg ?? 0, flipped: placement?.flipped ?? false,
    },
    ...makeWireSteps(facts),
    ...makeJumperSteps(facts),
    ...makeStandingReading(),
    { id: 'battery-on', kind: 'battery-on', required: true },
    { id: 'cranks', kind: 'cranks', required: true },
    ...(plan?.states.some((state) => state.engineRuns) === true ? [{ id: 'running', kind: 'running' as const, required: true }] : []),
    ...makeLiveReadings(facts),
    ...makeInterlockSteps(facts),
  ];
  const wiring = writeWiring(plan);
  return made.map((step) => ({ ...step, of: fingerprintOf([part.id, wiring, listEssentials(step)]) }));
}

/** One test for each interlock of the list. Two entries of one name that act otherwise are two tests. */
function makeInterlockSteps(facts: StepFacts): MadeStep[] {
  const list = facts.record.system.interlockList ?? [];
  const tests = list.filter((entry, index) => list.findIndex((other) => other.name === entry.name && other.acts === entry.acts) === index);
  return tests.map(({ name, acts }) => ({
    id: tests.some((other) => other.name === name && other.acts !== acts) ? `${nameStep('interlock', name)}-${acts}` : nameStep('interlock', name),
    kind: 'interlock', required: true, name, acts,
    shownAt: acts === 'stops-engine' ? null : findPlace(facts, acts === 'return' ? 'interlocked-return' : 'start-switch') ?? null,
  }));
}

/** What a tick of a step says was done: where any of it becomes another, the tick no longer counts. Words and sources are not in it. */
function listEssentials(step: StepWork): unknown[] {
  switch (step.kind) {
    case 'battery-off': case 'remove': case 'battery-on': case 'cranks': case 'running': return [step.kind];
    case 'make-ready': return [step.kind, step.kit];
    case 'drill': return [step.kind, step.hole];
    case 'mount': return [step.kind, step.bolts, step.rotationDeg, step.flipped];
    case 'wire': return [step.kind, writeWire(step.wire), step.to, step.newEnd, step.stack, step.jumpers, step.torque?.kind === 'advice' ? step.torque.thread : null];
    case 'wire-unplanned': case 'leave-off': return [step.kind, writeWire(step.wire)];
    case 'jumper': return [step.kind, step.from, step.to];
    case 'studs-open': return [step.kind, step.between];
    case 'reading': return [step.kind, step.reading, step.between, step.yardstick.low ?? null, step.yardstick.high ?? null];
    case 'interlock': return [step.kind, step.name, step.acts, step.shownAt];
    default: throw new Error(`no such step: ${JSON.stringify(step satisfies never)}`);
  }
}

function writeWire({ tag, colour, areaMm2, end, wasOn, leadsTo }: Wire): unknown[] {
  return [tag, colour ?? null, areaMm2 ?? null, end ?? null, wasOn, leadsTo ?? 'unknown'];
}
