import type { BenchRecord, NewJob, Part } from '../../catalog-schema/index.ts';

// Small invented things for tests.

export function makePart(id: string, more: Partial<Part> = {}): Part {
  return {
    id, partClass: 'start-relay', title: `Relay ${id}`,
    terminals: [
      { id: 'B', form: 'stud', thread: 'M6x1' }, { id: 'M', form: 'stud', thread: 'M6x1' },
      { id: '1', form: 'tab', tabWidthMm: 6.3 }, { id: '2', form: 'tab', tabWidthMm: 6.3 },
    ],
    circuit: [
      { kind: 'coil', id: 'c', between: ['1', '2'], nominalV: 12, ohmAt20C: 4 },
      { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'], inrushA: 300 },
    ],
    ...more,
  };
}

export const sampleRecord: BenchRecord = {
  partClass: 'start-relay',
  system: { nominalV: 12 },
  terminals: [{ id: 'B', form: 'stud', majorDiameterMm: 5.9 }, { id: 'M', form: 'stud' }, { id: 't1', form: 'tab' }, { id: 't2', form: 'tab' }],
  ohms: [{ between: ['t1', 't2'], ohm: 4.1 }, { between: ['t1', 'case'], ohm: 'open' }],
  wires: [
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery', colour: 'RD' }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter' },
    { tag: 'W3', wasOn: 't1', leadsTo: 'start-switch' }, { tag: 'W4', wasOn: 't2', leadsTo: 'chassis' },
  ],
};

/** A UUID that says which one it is. */
export function makeId(n: number, kind = 1): string {
  return `${String(kind).padStart(8, '0')}-0000-4000-8000-${String(n).padStart(12, '0')}`;
}

export function makeJob(n: number, more: Partial<NewJob> = {}): NewJob {
  return { id: makeId(n), title: `Job ${n}`, machine: 'Hedge shredder', record: sampleRecord, at: '2026-11-25T09:00:00Z', ...more };
}
