import type { BenchRecord, JobDocument, Part, Plan } from '../../../catalog-schema/index.ts';
import { documentRecordOf } from '../../../catalog-schema/index.ts';
import type { AsLeftBasis } from './basis.ts';
import type { StepFacts } from './step-facts.ts';
import type { AsLeftFacts } from './sign-off.ts';
import type { AsLeftStep } from './step.ts';

// A start relay with isolated coil on a machine with a seat switch in the return and a lid that stops the engine; invented.

export const record: BenchRecord = {
  partClass: 'start-relay',
  system: { nominalV: 12, interlockList: [{ name: 'Seat', acts: 'return' }, { name: 'Lid', acts: 'stops-engine' }] },
  terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' }],
  mounting: { holes: [{ xMm: -25, yMm: 0, diameterMm: 6.4 }, { xMm: 25, yMm: 0, diameterMm: 6.4 }] },
  wires: [
    { tag: '1', colour: 'RD', areaMm2: 25, end: { form: 'ring', holeMm: 6.4 }, wasOn: 'B', leadsTo: 'battery' },
    { tag: '2', colour: 'RD', areaMm2: 25, end: { form: 'ring', holeMm: 6.4 }, wasOn: 'M', leadsTo: 'starter' },
    { tag: '3', colour: 'YE/GN', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 }, wasOn: 'S', leadsTo: 'start-switch' },
    { tag: '4', colour: 'BN', areaMm2: 4, end: { form: 'ring', holeMm: 6.4 }, wasOn: 'B', leadsTo: 'tap' },
    { tag: '5', colour: 'BK', areaMm2: 1.5, wasOn: 'I', leadsTo: 'chassis' },
  ],
};
export const part: Part = {
  id: 'p1', partClass: 'start-relay', title: 'Start relay',
  terminals: [
    { id: '1', form: 'stud', thread: '5/16-24' }, { id: '2', form: 'stud', thread: '5/16-24' }, { id: 'a', form: 'tab', tabWidthMm: 6.3 }, { id: 'b', form: 'tab', tabWidthMm: 6.3 },
  ],
  circuit: [
    { kind: 'coil', id: 'c', between: ['a', 'b'], nominalV: 12, ohmAt20C: 4, pullInV: 8 },
    { kind: 'contact', id: 'k', between: ['1', '2'], form: 'NO', coils: ['c'], inrushA: 600 },
  ],
};
export const plan: Plan = {
  wires: [
    { tag: '1', from: 'B', to: '1', moved: false, newEnd: true }, { tag: '2', from: 'M', to: '2', moved: false, newEnd: true },
    { tag: '3', from: 'S', to: 'a', moved: false, newEnd: false }, { tag: '4', from: 'B', to: '1', moved: false, newEnd: true },
  ],
  jumpers: [{ from: 'b', to: 'chassis' }], leftOff: ['5'], bareTerminals: [], changes: 5, states: [],
};
export const facts: StepFacts = { record, plan, part, kit: [{ item: 'ring lug', qty: 3, detail: '5/16' }], placement: null };
export const basis: AsLeftBasis = { partId: 'p1', verdict: 'adapt', plan, plans: [plan], placement: null, kit: facts.kit };

export const AT = '2026-11-25T10:00:00.000Z';

/** The tick that closes a step as it stands. */
export function tickOf(step: AsLeftStep): NonNullable<JobDocument['asLeft']>[string] {
  return {
    at: AT, by: 'J', of: step.of,
    ...(step.kind === 'reading' ? { reading: step.yardstick.low ?? step.yardstick.high ?? 0 } : { outcome: 'good' as const }),
  };
}

/** What a job of this machine stands on, with these ticks. */
export function makeFacts(asLeft: JobDocument['asLeft'], changes: { readonly record?: BenchRecord; readonly basis?: AsLeftBasis; readonly document?: Partial<JobDocument> } = {}): AsLeftFacts {
  const own = changes.record ?? record;
  return {
    record: own, part, basis: changes.basis ?? basis, conflicts: 0, unit: 'mm',
    document: {
      title: 'Mixer', record: documentRecordOf(own), chosen: { partId: 'p1', plan }, ...(asLeft === undefined ? {} : { asLeft }), ...changes.document,
    },
  };
}
