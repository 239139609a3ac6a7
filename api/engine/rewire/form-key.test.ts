import { describe, expect, it } from 'vitest';
import type { CircuitElement, Part } from '../../../catalog-schema/index.ts';
import { formKeyOf } from './index.ts';

const RELAY: Part = {
  id: 'invented-1', partClass: 'start-relay', title: 'Start relay',
  terminals: [
    { id: 'B', form: 'stud', thread: 'M8', at: { xMm: -18, yMm: 0 } }, { id: 'M', form: 'stud', at: { xMm: 18, yMm: 0 } },
    { id: 'S', form: 'tab', tabWidthMm: 6.3, marking: 'S' },
  ],
  circuit: [
    { kind: 'coil', id: 'k', between: ['S', 'case'], nominalV: 12, ohmAt20C: 4, pullInV: 8, dropOutV: 2 },
    { kind: 'contact', id: 'main', between: ['B', 'M'], form: 'NO', coils: ['k'], inrushA: 300 },
  ],
  mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 6 }], conductive: true },
};

function withCircuit(change: (element: CircuitElement) => CircuitElement): Part {
  return { ...RELAY, circuit: RELAY.circuit.map(change) };
}

describe('the key of a form', () => {
  it('is the same whatever the numbers, the names of coils and what no wiring hangs on', () => {
    const key = formKeyOf(RELAY);
    expect(formKeyOf({ ...RELAY, id: 'invented-2', title: 'Other', sealing: 'IP67', partClass: 'contactor' })).toBe(key);
    expect(formKeyOf(withCircuit((element) => (element.kind === 'coil' ? { kind: 'coil', id: 'k', between: element.between, nominalV: 24 } : element)))).toBe(key);
    expect(formKeyOf(withCircuit((element) => (element.kind === 'coil' ? { ...element, id: 'x' } : element.kind === 'contact' ? { ...element, coils: ['x'], inrushA: 90 } : element)))).toBe(key);
    expect(formKeyOf({ ...RELAY, terminals: RELAY.terminals.map((terminal) => (terminal.form === 'stud' ? { ...terminal, thread: 'M6' } : terminal)) })).toBe(key);
  });

  it('tells apart what a wiring may hang on', () => {
    const others: Part[] = [
      { ...RELAY, mounting: { holes: [], conductive: false } },
      { ...RELAY, mounting: { holes: [] } },
      { ...RELAY, terminals: RELAY.terminals.toReversed() },
      { ...RELAY, circuit: RELAY.circuit.toReversed() },
      ...[{ marking: 'I' }, { tabWidthMm: 4.8 }, { form: 'pin' as const }, { at: { xMm: 1, yMm: 2 } }].map((change): Part => (
        { ...RELAY, terminals: RELAY.terminals.map((terminal) => (terminal.id === 'S' ? { ...terminal, ...change } : terminal)) })),
      withCircuit((element) => (element.kind === 'coil' ? { ...element, between: ['S', 'M'] } : element)),
      withCircuit((element) => (element.kind === 'coil' ? { ...element, between: ['case', 'S'] } : element)),
      withCircuit((element) => (element.kind === 'contact' ? { ...element, form: 'NC' } : element)),
      withCircuit((element) => (element.kind === 'contact' ? { ...element, coils: [] } : element)),
      { ...RELAY, circuit: [...RELAY.circuit, { kind: 'diode', from: 'case', to: 'S' }] },
      { ...RELAY, circuit: [...RELAY.circuit, { kind: 'diode', from: 'S', to: 'case' }] },
      { ...RELAY, circuit: [...RELAY.circuit, { kind: 'resistor', between: ['S', 'case'], ohm: 100 }] },
      { ...RELAY, circuit: [...RELAY.circuit, { kind: 'motor', between: ['S', 'case'], ohm: 100 }] },
    ];
    expect(new Set([RELAY, ...others].map(formKeyOf)).size).toBe(others.length + 1);
    // Which of two contacts is rated for more counts, by how much does not.
    const two = (first: number, second: number): Part => (
      { ...RELAY, circuit: [...RELAY.circuit.slice(0, 1), ...[first, second].map((inrushA, at): CircuitElement => ({ kind: 'contact', id: `c${at}`, between: ['B', 'M'], form: 'NO', coils: ['k'], inrushA }))] });
    expect(formKeyOf(two(300, 100))).toBe(formKeyOf(two(200, 50)));
    expect(formKeyOf(two(300, 100))).not.toBe(formKeyOf(two(100, 300)));
  });
});
