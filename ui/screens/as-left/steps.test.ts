import { describe, expect, it } from 'vitest';
import type { BenchRecord, Part, Plan } from '../../../catalog-schema/index.ts';
import { findBlocks, findTorque, makeSteps, markStep, type AsLeftFacts, type AsLeftStep } from './steps.ts';

const record: BenchRecord = {
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
const part: Part = {
  id: 'p1', partClass: 'start-relay', title: 'Start relay',
  terminals: [
    { id: '1', form: 'stud', thread: '5/16-24' }, { id: '2', form: 'stud', thread: '5/16-24' }, { id: 'a', form: 'tab', tabWidthMm: 6.3 }, { id: 'b', form: 'tab', tabWidthMm: 6.3 },
  ],
  circuit: [
    { kind: 'coil', id: 'c', between: ['a', 'b'], nominalV: 12, ohmAt20C: 4, pullInV: 8 },
    { kind: 'contact', id: 'k', between: ['1', '2'], form: 'NO', coils: ['c'], inrushA: 600 },
  ],
};
const plan: Plan = {
  wires: [
    { tag: '1', from: 'B', to: '1', moved: false, newEnd: true }, { tag: '2', from: 'M', to: '2', moved: false, newEnd: true },
    { tag: '3', from: 'S', to: 'a', moved: false, newEnd: false }, { tag: '4', from: 'B', to: '1', moved: false, newEnd: true },
  ],
  jumpers: [{ from: 'b', to: 'chassis' }], leftOff: ['5'], bareTerminals: [], changes: 5, states: [],
};
const facts: AsLeftFacts = { record, plan, part, kit: [{ item: 'ring lug', qty: 3, detail: '5/16' }], placement: null };
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
    const contactor = makeSteps({ ...facts, part: { ...part, partClass: 'contactor' } });
    expect(stepOf('reading', contactor).map((step) => step.reading)).toEqual(['coil-ohms', 'coil-volts']);
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

describe('a tick', () => {
  const at = '2026-11-25T10:00:00.000Z';
  const drop = stepOf('reading').find((step) => step.reading === 'contact-drop')!;

  it('is good at the limit and bad above it', () => {
    // 0.2 V across a new relay's contact: common practice, no source read for the exact figure
    expect(markStep(drop, { [drop.id]: { at, reading: 0.2 } })).toBe('done');
    expect(markStep(drop, { [drop.id]: { at, reading: 0.21 } })).toBe('bad');
  });

  it('is bad outside the limit whatever was ticked beside it, and open without a reading', () => {
    expect(markStep(drop, { [drop.id]: { at, reading: 0.9, outcome: 'good' } })).toBe('bad');
    expect(markStep(drop, { [drop.id]: { at, outcome: 'good' } })).toBe('open');
    expect(markStep(drop, undefined)).toBe('open');
  });

  it('blocks sign-off while a required step is open, names it, and lets optional ones be', () => {
    const steps = makeSteps(facts);
    const ticks = Object.fromEntries(steps.filter((step) => step.required && step.id !== 'interlock-Seat')
      .map((step) => [step.id, step.kind === 'reading' ? { at, reading: step.yardstick.low ?? 0 } : { at }]));
    const blocks = findBlocks(steps, record, ticks);
    expect(blocks.open.map((step) => step.id)).toEqual(['interlock-Seat']);
    expect(blocks.bad).toEqual([]);
    expect(findBlocks(steps, record, { ...ticks, 'interlock-Seat': { at, outcome: 'bad' } }).bad.map((step) => step.id)).toEqual(['interlock-Seat']);
    expect(findBlocks(steps, record, { ...ticks, 'interlock-Seat': { at, outcome: 'good' } })).toEqual({ open: [], bad: [], noInterlockList: false });
  });

  it('does not stand in for a list of interlocks that nobody has written', () => {
    const unlisted: BenchRecord = { ...record, system: { nominalV: 12 } };
    const none: BenchRecord = { ...record, system: { nominalV: 12, interlockList: [] } };
    expect(findBlocks([], unlisted, {}).noInterlockList).toBe(true);
    expect(findBlocks([], none, {}).noInterlockList).toBe(false);
  });
});
