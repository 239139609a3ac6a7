import { describe, expect, it } from 'vitest';
import type { Part } from '../../../catalog-schema/index.ts';
import { makeSteps } from './make-steps.ts';
import { facts, part, plan, record } from './sample-checklist.ts';
import type { AsLeftStep } from './step.ts';
import { findTorque } from './torque.ts';

const kindsOf = (steps: readonly AsLeftStep[]): string[] => steps.map((step) => step.kind);
const stepOf = <K extends AsLeftStep['kind']>(kind: K, steps = makeSteps(facts)): Extract<AsLeftStep, { kind: K }>[] =>
  steps.filter((step): step is Extract<AsLeftStep, { kind: K }> => step.kind === kind);

describe('the steps of putting a part in', () => {
  it('begin with the battery off, and put it on after the last wire and jumper', () => {
    const kinds = kindsOf(makeSteps(facts));
    expect(kinds[0]).toBe('battery-off');
    const on = kinds.indexOf('battery-on');
    expect(on).toBeGreaterThan(kinds.lastIndexOf('wire'));
    expect(on).toBeGreaterThan(kinds.lastIndexOf('jumper'));
    expect(on).toBeGreaterThan(kinds.lastIndexOf('leave-off'));
    expect(on).toBeLessThan(kinds.indexOf('cranks'));
    expect(kinds.filter((kind) => kind === 'battery-on')).toHaveLength(1);
  });

  it('have one step for each wire of the plan, the battery cable last, wires of one stud together', () => {
    expect(stepOf('wire').map((step) => step.wire.tag)).toEqual(['2', '3', '1', '4']);
    expect(stepOf('leave-off').map((step) => step.wire.tag)).toEqual(['5']);
  });

  it('lay the widest lug of a stud on its seat and tighten only with its last wire', () => {
    const [first, second] = stepOf('wire').filter((step) => step.to === '1');
    expect(first!.stack).toEqual(['1', '4']);
    expect(first!.tighten).toBeNull();
    expect(second!.tighten).toMatchObject({ kind: 'advice', thread: '5/16-24' });
  });

  it('leave a nut loose for a jumper that comes onto its stud, and tighten with the jumper', () => {
    const steps = makeSteps({ ...facts, plan: { ...plan, jumpers: [{ from: '2', to: 'chassis' }] } });
    expect(stepOf('wire', steps).find((step) => step.to === '2')!.tighten).toBeNull();
    expect(stepOf('jumper', steps)[0]!.tighten).toMatchObject([{ terminal: '2', torque: { kind: 'advice', thread: '5/16-24' } }]);
  });

  it('test each interlock of the list by name, as it acts', () => {
    expect(stepOf('interlock').map((step) => [step.name, step.acts])).toEqual([['Seat', 'return'], ['Lid', 'stops-engine']]);
  });

  it('drill every new hole before the part is bolted on', () => {
    const steps = makeSteps({ ...facts, placement: { rotationDeg: 90, flipped: false, shiftMm: [0, 0], newHoles: [{ xMm: 1, yMm: 2, diameterMm: 6.5, in: 'panel' }] } });
    const kinds = kindsOf(steps);
    expect(kinds.indexOf('drill')).toBeGreaterThan(-1);
    expect(kinds.indexOf('drill')).toBeLessThan(kinds.indexOf('mount'));
    expect(stepOf('mount', steps)[0]).toMatchObject({ bolts: 2, rotationDeg: 90 });
  });

  it('ask for a running test only where the plan was judged with the engine running', () => {
    expect(kindsOf(makeSteps(facts))).not.toContain('running');
    const running = { startSwitch: false, interlocks: true, engineRuns: true, pulledIn: false, starterLive: false, controlA: 0 };
    expect(kindsOf(makeSteps({ ...facts, plan: { ...plan, states: [running] } }))).toContain('running');
  });

  it('say of each wire that no plan knows a place for it, and name no terminal', () => {
    const steps = makeSteps({ ...facts, plan: null });
    expect(kindsOf(steps).filter((kind) => kind === 'wire-unplanned')).toHaveLength(5);
    expect(kindsOf(steps)).not.toContain('wire');
  });

  it('have ids that are not used twice and are the same each time', () => {
    const ids = makeSteps(facts).map((step) => step.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(makeSteps(facts).map((step) => step.id)).toEqual(ids);
  });

  it('leave the coil’s ohms out where a resistor inside would be read with it', () => {
    const shunted: Part = { ...part, circuit: [...part.circuit, { kind: 'resistor', between: ['a', 'b'], ohm: 100 }] };
    expect(stepOf('reading').map((step) => step.reading)).toContain('coil-ohms');
    expect(stepOf('reading', makeSteps({ ...facts, part: shunted })).map((step) => step.reading)).not.toContain('coil-ohms');
  });

  it('hold the coil to its pull-in volts, scaled to the machine', () => {
    const at24 = makeSteps({ ...facts, record: { ...record, system: { ...record.system, nominalV: 24 } } });
    expect(stepOf('reading', at24).find((step) => step.reading === 'coil-volts')!.yardstick.low).toBe(16);
  });

  it('hold a contactor to no drop at cranking current, which it never carries', () => {
    const contactor: Part = { ...part, partClass: 'contactor' };
    const readings = (partClass: 'contactor' | 'start-relay'): string[] => stepOf('reading', makeSteps({ ...facts, record: { ...record, partClass }, part: contactor })).map((step) => step.reading);
    expect(readings('contactor')).toEqual(['coil-ohms', 'standing-current', 'coil-volts']);
    // In the place of a start relay it carries the starter like one.
    expect(readings('start-relay')).toEqual(['coil-ohms', 'standing-current', 'coil-volts', 'contact-drop', 'positive-drop', 'ground-drop']);
  });

  it('read the standing current before the clamp goes on, so that a wrong wire shows on the meter and not as a spark', () => {
    const steps = makeSteps(facts);
    const at = steps.findIndex((step) => step.kind === 'reading' && step.reading === 'standing-current');
    expect(steps[at + 1]!.kind).toBe('battery-on');
    expect(steps[at]!.required).toBe(true);
  });

  it('take the contract’s 0.7 of nominal for a coil that gives no pull-in, and say whose figure it is', () => {
    // 0.7 of nominal: common practice, no source
    const coil = { kind: 'coil' as const, id: 'c', between: ['a', 'b'] as [string, string], nominalV: 12 };
    const silent: Part = { ...part, circuit: [coil, part.circuit[1]!] };
    const { yardstick } = stepOf('reading', makeSteps({ ...facts, part: silent })).find((step) => step.reading === 'coil-volts')!;
    expect(yardstick.low).toBeCloseTo(8.4, 9);
    expect(yardstick.source).toContain('common practice, no source');
  });

  it('read a shift solenoid’s two windings across the one that holds', () => {
    const shift: Part = {
      ...part, partClass: 'shift-solenoid',
      circuit: [
        { kind: 'coil', id: 'in', between: ['a', '2'], nominalV: 12, pullInV: 7 }, { kind: 'coil', id: 'hold', between: ['a', 'case'], nominalV: 12, pullInV: 7.5 },
        { kind: 'contact', id: 'k', between: ['1', '2'], form: 'NO', coils: ['in', 'hold'] },
      ],
    };
    expect(stepOf('reading', makeSteps({ ...facts, part: shift })).find((step) => step.reading === 'coil-volts')).toMatchObject({ between: ['a', 'case'], yardstick: { low: 7.5 } });
  });

  it('say where a meter shows that an interlock acts: at the return, or at the start-switch wire', () => {
    const wires = [...record.wires!, { tag: '6', wasOn: 'I', leadsTo: 'interlocked-return' as const }];
    const wired = { ...plan, wires: [...plan.wires, { tag: '6', from: 'I', to: 'b', moved: false, newEnd: false }] };
    const listed = { ...record, wires, system: { ...record.system, interlockList: [...record.system.interlockList!, { name: 'Neutral', acts: 'feed' as const }] } };
    expect(stepOf('interlock', makeSteps({ ...facts, record: listed, plan: wired })).map((step) => [step.name, step.shownAt])).toEqual([['Seat', 'b'], ['Lid', null], ['Neutral', 'a']]);
  });

  it('test two interlocks of one name that act otherwise apart, and one that is listed twice once', () => {
    const listed = { ...record, system: { ...record.system, interlockList: [{ name: 'Seat', acts: 'return' as const }, { name: 'Seat', acts: 'stops-engine' as const }, { name: 'Seat', acts: 'return' as const }] } };
    expect(stepOf('interlock', makeSteps({ ...facts, record: listed })).map((step) => step.id)).toEqual(['interlock-Seat-return', 'interlock-Seat-stops-engine']);
  });

  it('have an id that an edit can carry, however long the name', () => {
    const listed = { ...record, system: { ...record.system, interlockList: [{ name: 'x'.repeat(2000), acts: 'return' as const }] } };
    expect(stepOf('interlock', makeSteps({ ...facts, record: listed }))[0]!.id.length).toBeLessThan(200);
  });
});

describe('the fingerprint of a step', () => {
  const ofs = (changed: Partial<typeof facts>): Map<string, string> => new Map(makeSteps({ ...facts, ...changed }).map((step) => [step.id, step.of]));
  const before = ofs({});
  const changedBy = (changed: Partial<typeof facts>): string[] => [...ofs(changed)].filter(([id, of]) => before.get(id) !== of).map(([id]) => id);

  it('is another for every step of another part or another wiring: what was tried before shows nothing of it', () => {
    expect(changedBy({ part: { ...part, id: 'p2' } })).toHaveLength(before.size);
    const moved = { ...plan, wires: plan.wires.map((wire) => (wire.tag === '4' ? { ...wire, to: '2' } : wire)) };
    expect(changedBy({ plan: moved })).toHaveLength(before.size);
  });

  it('is another for the one wire whose colour, end or size is another, and for the lug stack it lies in', () => {
    const recoloured = { ...record, wires: record.wires!.map((wire) => (wire.tag === '3' ? { ...wire, colour: 'BU' } : wire)) };
    expect(changedBy({ record: recoloured })).toEqual(['wire-3']);
    const thicker = { ...record, wires: record.wires!.map((wire) => (wire.tag === '4' ? { ...wire, areaMm2: 35 } : wire)) };
    expect(changedBy({ record: thicker })).toEqual(['wire-4', 'wire-1']);
  });

  it('is another for an interlock that is said to act otherwise, and for a reading whose limit is another', () => {
    const other = { ...record, system: { ...record.system, interlockList: [{ name: 'Seat', acts: 'feed' as const }, { name: 'Lid', acts: 'stops-engine' as const }] } };
    expect(changedBy({ record: other })).toEqual(['interlock-Seat']);
    expect(changedBy({ record: { ...record, system: { ...record.system, nominalV: 24 } } })).toEqual(['read-coil-volts']);
  });

  it('does not hang on how a wire was traced', () => {
    const traced = { ...record, wires: record.wires!.map((wire) => ({ ...wire, traced: { by: 'meter' as const } })) };
    expect(changedBy({ record: traced })).toEqual([]);
  });
});

describe('the torque of a nut', () => {
  it('is the test torque of the band a 5/16 stud lies in, and says so', () => {
    // IEC 60947-1 Table 4, column III, above 6.0 to 8.0 mm: 6 N·m (from memory, as the table's row says)
    const torque = findTorque('1', part);
    expect(torque).toMatchObject({ kind: 'advice', advice: { newtonMetres: 6 } });
    expect(torque!.kind === 'advice' && torque!.advice.label).toContain('test torque');
  });

  it('is unknown for a stud whose thread nobody gave, and none for a tab', () => {
    expect(findTorque('s', { ...part, terminals: [{ id: 's', form: 'stud' }] })).toEqual({ kind: 'unknown' });
    expect(findTorque('a', part)).toBeNull();
  });
});

