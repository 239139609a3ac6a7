import {
  readThread, torqueFor, type BenchRecord, type CoilElement, type JobDocument, type KitItem, type LeadsTo, type Part, type Placement, type Plan,
  type TorqueAdvice, type Wire,
} from '../../../catalog-schema/index.ts';
import { needsNewEnd } from './new-end.ts';
import { coilOhmYardstick, CONTACT_DROP, GROUND_DROP, isWithin, POSITIVE_DROP, type Yardstick } from './yardsticks.ts';

/** What the checklist is made from. `placement` and `kit` are those of the chosen fit, where it is known. */
export interface AsLeftFacts {
  readonly record: BenchRecord;
  readonly plan: Plan | null;
  readonly part: Part;
  readonly kit: readonly KitItem[];
  readonly placement: Placement | null;
}

/** Tightening: the advice, or that there is none because the thread is not known. */
export type Torque = { readonly kind: 'advice'; readonly thread: string; readonly advice: TorqueAdvice } | { readonly kind: 'unknown' };

interface StepBase { readonly id: string; readonly required: boolean }
export type ReadingKey = 'coil-ohms' | 'coil-volts' | 'contact-drop' | 'positive-drop' | 'ground-drop';

/** One step of putting the part in. Words are made where it is shown. */
export type AsLeftStep = StepBase & (
  | { readonly kind: 'battery-off' | 'remove' | 'battery-on' | 'cranks' | 'running' }
  | { readonly kind: 'make-ready'; readonly kit: readonly KitItem[] }
  | { readonly kind: 'drill'; readonly hole: Placement['newHoles'][number] }
  | { readonly kind: 'mount'; readonly bolts: number; readonly rotationDeg: number; readonly flipped: boolean }
  | { readonly kind: 'wire'; readonly wire: Wire; readonly to: string; readonly moved: boolean; readonly newEnd: boolean
      /** tags on this terminal, the lug that lies on the seat first */
      readonly stack: readonly string[]
      /** the last wire of its terminal: the nut is tightened now */
      readonly tighten: Torque | null
      /** the nut's torque, whether it is tightened now or with a later wire; null for what takes no nut */
      readonly torque: Torque | null
      /** jumper lugs that come onto this terminal too */
      readonly jumpers: number }
  | { readonly kind: 'wire-unplanned' | 'leave-off'; readonly wire: Wire }
  | { readonly kind: 'jumper'; readonly from: string; readonly to: string
      /** studs that get their last lug with this jumper, each with its torque */
      readonly tighten: readonly { readonly terminal: string; readonly torque: Torque }[] }
  | { readonly kind: 'studs-open'; readonly between: readonly [string, string] }
  | { readonly kind: 'reading'; readonly reading: ReadingKey; readonly between: readonly [string, string]; readonly yardstick: Yardstick }
  | { readonly kind: 'interlock'; readonly name: string; readonly acts: 'return' | 'feed' | 'stops-engine' }
);
export type StepKind = AsLeftStep['kind'];

/** In which order wires go on: the heavy feed from the battery last (common practice, no source). */
const WIRE_ORDER: readonly LeadsTo[] = ['starter', 'chassis', 'interlocked-return', 'start-switch', 'cranking-feed', 'unknown', 'tap', 'battery'];

/**
 * The steps from the battery's minus off to the last interlock test, in order. Pure: the same facts give the same steps with the
 * same ids, so that a tick holds across devices.
 */
export function makeSteps(facts: AsLeftFacts): AsLeftStep[] {
  const { record, plan, kit, placement } = facts;
  return [
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
    { id: 'battery-on', kind: 'battery-on', required: true },
    { id: 'cranks', kind: 'cranks', required: true },
    ...(plan?.states.some((state) => state.engineRuns) === true ? [{ id: 'running', kind: 'running' as const, required: true }] : []),
    ...makeLiveReadings(facts),
    ...(record.system.interlockList ?? []).map(({ name, acts }) => ({ id: `interlock-${name}`, kind: 'interlock' as const, required: true, name, acts })),
  ];
}

function makeWireSteps({ record, plan, part }: AsLeftFacts): AsLeftStep[] {
  const wires = record.wires ?? [];
  if (plan === null) return wires.map((wire) => ({ id: `wire-${wire.tag}`, kind: 'wire-unplanned', required: true, wire }));
  const placed = plan.wires.flatMap((entry) => {
    const wire = wires.find((known) => known.tag === entry.tag);
    return wire === undefined ? [] : [{ entry, wire }];
  });
  const rank = (wire: Wire): number => WIRE_ORDER.indexOf(wire.leadsTo ?? 'unknown');
  const terminals = [...new Set(placed.toSorted((a, b) => rank(a.wire) - rank(b.wire)).map(({ entry }) => entry.to))];
  const steps = terminals.flatMap((to): AsLeftStep[] => {
    // On one stud the widest lug lies on the seat.
    const here = placed.filter(({ entry }) => entry.to === to).toSorted((a, b) => (b.wire.areaMm2 ?? 0) - (a.wire.areaMm2 ?? 0));
    const stack = here.map(({ wire }) => wire.tag);
    const jumpers = plan.jumpers.filter((jumper) => jumper.from === to || jumper.to === to).length;
    const torque = findTorque(to, part);
    return here.map(({ entry, wire }, index) => ({
      id: `wire-${wire.tag}`, kind: 'wire', required: true, wire, to, moved: entry.moved, newEnd: needsNewEnd(wire, entry, part), stack,
      tighten: index === here.length - 1 && jumpers === 0 ? torque : null, torque, jumpers,
    }));
  });
  const off = plan.leftOff.flatMap((tag) => wires.filter((wire) => wire.tag === tag));
  return [...steps, ...off.map((wire): AsLeftStep => ({ id: `off-${wire.tag}`, kind: 'leave-off', required: true, wire }))];
}

/** Jumpers come after the wires; a stud's nut is tightened with the last jumper that lies on it. */
function makeJumperSteps({ plan, part }: AsLeftFacts): AsLeftStep[] {
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

/** The torque of a stud's or screw's nut; null for what takes no nut. */
export function findTorque(terminalId: string, part: Part): Torque | null {
  const terminal = part.terminals.find((entry) => entry.id === terminalId);
  if (terminal === undefined || (terminal.form !== 'stud' && terminal.form !== 'screw')) return null;
  const thread = terminal.thread === undefined ? undefined : readThread(terminal.thread);
  const advice = thread === undefined ? undefined : torqueFor(thread.majorMm);
  return thread === undefined || advice === undefined ? { kind: 'unknown' } : { kind: 'advice', thread: thread.name, advice };
}

/** Readings of the new part on the bench, before a wire makes a second path: the heavy contact is open, the coil has its ohms. */
function makeColdReadings(facts: AsLeftFacts): AsLeftStep[] {
  const heavy = findHeavyEnds(facts);
  // A resistor inside lies across the coil and would be read with it.
  const coil = facts.part.circuit.some((element) => element.kind === 'resistor') ? undefined : findPlainCoil(facts.part);
  return [
    ...(heavy === undefined ? [] : [{ id: 'studs-open', kind: 'studs-open' as const, required: true, between: heavy }]),
    ...(coil?.ohmAt20C === undefined ? [] : [{
      id: 'read-coil-ohms', kind: 'reading' as const, required: false, reading: 'coil-ohms' as const, between: coil.between,
      yardstick: coilOhmYardstick(coil.ohmAt20C, 'catalogue'),
    }]),
  ];
}

/** Readings while it cranks. The drops are for cranking current and are left out where nothing cranks. */
function makeLiveReadings(facts: AsLeftFacts): AsLeftStep[] {
  const { part, record } = facts;
  const heavy = findHeavyEnds(facts);
  const coil = findPlainCoil(part);
  const cranks = part.partClass !== 'plug-in-relay' && part.partClass !== 'contactor';
  const pullInV = coil?.pullInV === undefined ? undefined : coil.pullInV * (record.system.nominalV / coil.nominalV);
  return [
    ...(coil === undefined || pullInV === undefined ? [] : [{
      id: 'read-coil-volts', kind: 'reading' as const, required: true, reading: 'coil-volts' as const, between: coil.between,
      yardstick: { low: pullInV, high: undefined, unit: 'V' as const, source: 'catalogue' },
    }]),
    ...(heavy === undefined || !cranks ? [] : [{
      id: 'read-contact-drop', kind: 'reading' as const, required: true, reading: 'contact-drop' as const, between: heavy, yardstick: CONTACT_DROP,
    }]),
    ...(heavy === undefined || part.partClass !== 'start-relay' ? [] : [{
      id: 'read-positive-drop', kind: 'reading' as const, required: false, reading: 'positive-drop' as const,
      between: ['battery +', 'starter'] as const, yardstick: POSITIVE_DROP,
    }]),
    ...(!cranks ? [] : [{
      id: 'read-ground-drop', kind: 'reading' as const, required: false, reading: 'ground-drop' as const,
      between: ['battery -', 'starter case'] as const, yardstick: GROUND_DROP,
    }]),
  ];
}

/** The new terminals that the battery and the starter went on, when the plan says both. */
function findHeavyEnds({ record, plan }: AsLeftFacts): readonly [string, string] | undefined {
  const placeOf = (leadsTo: LeadsTo): string | undefined => {
    const tags = (record.wires ?? []).filter((wire) => wire.leadsTo === leadsTo).map((wire) => wire.tag);
    return plan?.wires.find((entry) => tags.includes(entry.tag))?.to;
  };
  const battery = placeOf('battery');
  const starter = placeOf('starter');
  return battery === undefined || starter === undefined || battery === starter ? undefined : [battery, starter];
}

/** The coil a meter can be put across: the only one, with both its ends outside. */
function findPlainCoil(part: Part): CoilElement | undefined {
  const outer = new Set([...part.terminals.map((terminal) => terminal.id), 'case']);
  const coils = part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
  return coils.length === 1 && coils[0]!.between.every((node) => outer.has(node)) ? coils[0] : undefined;
}

export type StepMark = 'open' | 'done' | 'bad';
type Ticks = NonNullable<JobDocument['asLeft']>;

/** How a step stands by what was ticked. A reading outside its limit is bad whatever was ticked beside it. */
export function markStep(step: AsLeftStep, ticks: Ticks | undefined): StepMark {
  const tick = ticks?.[step.id];
  if (tick === undefined) return 'open';
  if (tick.outcome === 'bad') return 'bad';
  if (step.kind === 'reading') {
    if (tick.reading === undefined) return 'open';
    return isWithin(tick.reading, step.yardstick) ? 'done' : 'bad';
  }
  return 'done';
}

/** What stands between the job and its sign-off: required steps that are open, any step that went wrong, a missing list of interlocks. */
export function findBlocks(steps: readonly AsLeftStep[], record: BenchRecord, ticks: Ticks | undefined):
  { readonly open: readonly AsLeftStep[]; readonly bad: readonly AsLeftStep[]; readonly noInterlockList: boolean } {
  return {
    open: steps.filter((step) => step.required && markStep(step, ticks) === 'open'),
    bad: steps.filter((step) => markStep(step, ticks) === 'bad'),
    noInterlockList: record.system.interlockList === undefined,
  };
}
