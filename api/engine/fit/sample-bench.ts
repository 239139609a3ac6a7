import type { BenchRecord, CoilElement, ContactElement, Part } from '../../../catalog-schema/index.ts';

// A machine and a part that goes on it as it is, for the tests of this folder.

/** A start relay with an isolated coil on S and R, M8 studs, 50 mm between its bolts. */
export function relay(id: string, more: Partial<Part> = {}, coil: Partial<CoilElement> = {}, contact: Partial<ContactElement> = {}): Part {
  return {
    id, partClass: 'start-relay', title: id,
    terminals: [
      { id: 'B', form: 'stud', thread: 'M8x1.25', at: { xMm: -20, yMm: 20 } }, { id: 'M', form: 'stud', thread: 'M8x1.25', at: { xMm: 20, yMm: 20 } },
      { id: 'S', form: 'tab', tabWidthMm: 6.3, at: { xMm: -10, yMm: 0 } }, { id: 'R', form: 'tab', tabWidthMm: 6.3, at: { xMm: 10, yMm: 0 } },
    ],
    circuit: [
      { kind: 'coil', id: 'k', between: ['S', 'R'], nominalV: 12, ohmAt20C: 4, pullInV: 7, dropOutV: 1.5, duty: { type: 'intermittent', maxOnS: 30 }, ...coil },
      { kind: 'contact', id: 'h', between: ['B', 'M'], form: 'NO', coils: ['k'], inrushA: 400, continuousA: 100, ...contact },
    ],
    mounting: { holes: [{ xMm: -25, yMm: -15, diameterMm: 6.6 }, { xMm: 25, yMm: -15, diameterMm: 6.6 }], conductive: true, drillable: false },
    body: { lengthMm: 70, widthMm: 40, heightMm: 50 }, sealing: 'IP67', ambientC: { min: -30, max: 85 }, ...more,
  };
}

/** The machine it came off: return through a seat switch. */
export function record(more: Partial<BenchRecord> = {}): BenchRecord {
  return {
    partClass: 'start-relay',
    system: { nominalV: 12, interlocks: 'in-return', interlockList: [{ name: 'seat', acts: 'return' }] },
    terminals: relay('x').terminals.map(({ id, form, thread, tabWidthMm, at }) => ({ id, form, ...(thread && { thread }), ...(tabWidthMm && { tabWidthMm }), at })),
    mounting: { holes: [{ xMm: -25, yMm: -15, diameterMm: 6.6 }, { xMm: 25, yMm: -15, diameterMm: 6.6 }], boltMm: 6, panelGrounded: true },
    wires: [
      { tag: 'W1', areaMm2: 16, end: { form: 'ring', holeMm: 8.4 }, wasOn: 'B', leadsTo: 'battery' },
      { tag: 'W2', areaMm2: 16, end: { form: 'ring', holeMm: 8.4 }, wasOn: 'M', leadsTo: 'starter' },
      { tag: 'W3', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 }, wasOn: 'S', leadsTo: 'start-switch' },
      { tag: 'W4', areaMm2: 1.5, end: { form: 'receptacle', tabWidthMm: 6.3 }, wasOn: 'R', leadsTo: 'interlocked-return' },
    ],
    ...more,
  };
}

/** The same machine with all that it asks of a part written down: nothing is left to what the removed part may have been. */
export function whole(demand: NonNullable<BenchRecord['demand']> = {}, more: Partial<BenchRecord> = {}): BenchRecord {
  return record({
    system: { nominalV: 12, interlocks: 'in-return', interlockList: [{ name: 'seat', acts: 'return' }], ambientC: { min: -10, max: 40 } },
    space: { lengthMm: 90, widthMm: 60, heightMm: 60 },
    demand: { inrushA: { value: 180, plusMinus: 10 }, continuousA: { value: 40, plusMinus: 2 }, longestOnS: 20, continuousUse: false, controlFuseA: 20, minSealing: 'IP54', ...demand },
    ...more,
  });
}
