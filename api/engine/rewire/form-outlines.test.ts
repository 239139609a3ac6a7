import { describe, expect, it } from 'vitest';
import type { BenchRecord, CircuitElement, CoilElement, Part } from '../../../catalog-schema/index.ts';
import { createRewirer, WiringMemory } from './index.ts';
import { readStructure } from './topology.ts';

const RECORD: BenchRecord = {
  system: { nominalV: 12, interlocks: 'in-return' }, mounting: { holes: [], panelGrounded: true }, demand: { controlOhm: 0.19 },
  wires: [
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery' }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter' },
    { tag: 'W3', wasOn: 'S', leadsTo: 'start-switch' }, { tag: 'W4', wasOn: 'I', leadsTo: 'interlocked-return' },
  ],
};

function makeRelay(coil: Partial<CoilElement> = {}, ids: readonly [string, string, string, string] = ['B', 'M', 'S', 'I']): Part {
  const [battery, load, first, second] = ids;
  return {
    id: 'invented', partClass: 'start-relay', title: 'Start relay',
    terminals: [{ id: battery, form: 'stud' }, { id: load, form: 'stud' }, { id: first, form: 'tab' }, { id: second, form: 'tab' }],
    circuit: [
      { kind: 'coil', id: 'k', between: [first, second], nominalV: 12, ohmAt20C: 4, pullInV: 8, dropOutV: 2, ...coil },
      { kind: 'contact', id: 'main', between: [battery, load], form: 'NO', coils: ['k'] },
    ],
    mounting: { holes: [], conductive: true },
  };
}

/** What an outline and a search of the part by itself say: the same, or a difference to look at. */
function compare(part: Part, record = RECORD): { byForm: unknown; alone: unknown } {
  const outline = createRewirer(record).outline(part);
  const first = createRewirer(record, { separately: true }).findFirstPlan(part);
  return { byForm: outline?.plan?.wires, alone: first.plan?.wires };
}

describe('the topology of a part', () => {
  it('is the same whatever its terminals are called and in which order they and the elements are listed', () => {
    const relay = makeRelay();
    const { topology: { key } } = readStructure(relay);
    expect(readStructure(makeRelay({}, ['87', '30', '85', '86'])).topology.key).toBe(key);
    expect(readStructure({ ...relay, terminals: relay.terminals.toReversed(), circuit: relay.circuit.toReversed() }).topology.key).toBe(key);
    expect(readStructure(makeRelay({ between: ['I', 'S'] })).topology.key).toBe(key);
    expect(readStructure({ ...relay, terminals: relay.terminals.map((terminal) => (terminal.form === 'tab' ? { ...terminal, form: 'pin' } : { ...terminal, form: 'screw' })) }).topology.key).toBe(key);
  });

  it('is another where something is joined otherwise or a terminal takes more wires', () => {
    const relay = makeRelay();
    const diode: CircuitElement = { kind: 'diode', from: 'I', to: 'S' };
    const parts = [
      relay, makeRelay({ between: ['S', 'case'] }), makeRelay({ between: ['S', 'M'] }), { ...relay, circuit: [...relay.circuit, diode] },
      { ...relay, terminals: relay.terminals.map((terminal) => ({ ...terminal, form: 'stud' as const })) },
    ];
    expect(new Set(parts.map((part) => readStructure(part).topology.key)).size).toBe(parts.length);
  });
});

describe('a plan found by the form of a part', () => {
  it('is that of a search at a limit and within rounding on both sides of it', () => {
    // 12 V through 0.01 Ohm of battery and 0.19 Ohm of start circuit: 12 * 4 / 4.2 = 11.428571... V at the coil.
    const volts = (12 * 4) / 4.2;
    const found = [1e-3, 1e-9, 1e-12, 1e-15, 0, -1e-15, -1e-12, -1e-9, -1e-3].map((share) => {
      const { byForm, alone } = compare(makeRelay({ pullInV: volts * (1 + share) }));
      expect(byForm, `pull-in ${share} above`).toEqual(alone);
      return alone !== undefined;
    });
    expect(found.at(0)).toBe(false);
    expect(found.at(-1)).toBe(true);
  });

  it('is that of a search for a coil that lets go at 0 V only', () => {
    const { byForm, alone } = compare(makeRelay({ dropOutV: 0 }));
    expect(byForm).toEqual(alone);
  });

  it('is that of a search where a second plunger moves, which no list of plans covers', () => {
    const relay = makeRelay();
    const two: Part = {
      ...relay, terminals: [...relay.terminals, { id: 'X', form: 'tab' }],
      circuit: [
        ...relay.circuit, { kind: 'coil', id: 'second', between: ['S', 'X'], nominalV: 12, ohmAt20C: 40 },
        { kind: 'contact', id: 'light', between: ['B', 'X'], form: 'NO', coils: ['second'] },
      ],
    };
    expect(createRewirer(RECORD).leastWork(two, undefined, [{ move: 1, newEnd: 1, jumper: 1, leaveOff: 1, lug: 1 }], () => false)).toBeUndefined();
    const { byForm, alone } = compare(two);
    expect(byForm).toEqual(alone);
  });

  it('is one object for parts that come to it, and another machine may share what was found out', () => {
    const memory = new WiringMemory();
    const rewirer = createRewirer(RECORD, { memory });
    const outline = rewirer.outline(makeRelay(), 0);
    expect(outline?.plan?.changes).toBe(0);
    expect(rewirer.outline(makeRelay({ ohmAt20C: 5 }), 0)).toBe(outline);
    expect(rewirer.outline(makeRelay({ pullInV: 11.9 }), 0)).toBeNull();
    const weaker = createRewirer({ ...RECORD, demand: { controlOhm: 3 } }, { memory });
    expect(weaker.outline(makeRelay(), 0)).toBeNull();
    expect(weaker.outline(makeRelay({ ohmAt20C: 40 }), 0)?.plan).toEqual(outline?.plan);
    expect(rewirer.outline(makeRelay(), 0)).toBe(outline);
  });

  it('hangs on the start circuit where it is right at the value measured and not at an end of its interval', () => {
    const record = (plusMinus: number): BenchRecord => ({ ...RECORD, demand: { controlOhm: { value: 0.19, plusMinus } } });
    // 12 * 4 / (4.01 + ohm) is 8 V at 1.99 Ohm.
    expect(createRewirer(record(1.7)).outline(makeRelay())?.hangsOnControlOhm).toBe(false);
    expect(createRewirer(record(1.9)).outline(makeRelay())?.hangsOnControlOhm).toBe(true);
  });

  it('is in doubt, and one object for all who share it, where it is right at an end of that interval only', () => {
    const record: BenchRecord = { ...RECORD, demand: { controlOhm: { value: 2.2, plusMinus: 0.4 } } };
    const rewirer = createRewirer(record);
    const outline = rewirer.outline(makeRelay(), 0);
    expect(outline).toMatchObject({ plan: { changes: 0 }, hangsOnControlOhm: true, onlyAtControlOhm: expect.closeTo(1.8, 9) });
    expect(rewirer.outline(makeRelay({ ohmAt20C: 4.05 }), 0)).toBe(outline);
    expect(rewirer.isRefused(makeRelay(), 0)).toBe(false);
    expect(rewirer.isRefused(makeRelay({ pullInV: 11.9 }), 0)).toBe(true);
    const searched = createRewirer(record, { separately: true }).outline(makeRelay(), 0)!;
    expect({ plan: searched.plan?.wires, at: searched.onlyAtControlOhm }).toEqual({ plan: outline!.plan!.wires, at: outline!.onlyAtControlOhm });
  });
});
