import { describe, expect, it } from 'vitest';
import { rewireAnswer, type BenchRecord, type CircuitElement, type Part, type RefusalCode, type Terminal, type Wire } from '../../../catalog-schema/index.ts';
import { createRewirer, findFirstPlan, rewire } from './index.ts';

// A start relay with two studs and two tabs, and the machine it sits on. Values are invented.
const STUDS: Terminal[] = [{ id: 'A', form: 'stud', at: { xMm: -20, yMm: 0 } }, { id: 'B', form: 'stud', at: { xMm: 20, yMm: 0 } }];
const TAB_S: Terminal = { id: 'S', form: 'tab', tabWidthMm: 6.3, at: { xMm: -6, yMm: 15 } };
const TAB_I: Terminal = { id: 'I', form: 'tab', tabWidthMm: 6.3, at: { xMm: 6, yMm: 15 } };
const TAB_X: Terminal = { id: 'X', form: 'tab', tabWidthMm: 6.3, at: { xMm: 0, yMm: 25 } };

type Coil = Extract<CircuitElement, { kind: 'coil' }>;
const coil = (a: string, b: string, more: Partial<Coil> = {}): CircuitElement => ({
  kind: 'coil', id: 'K', between: [a, b], nominalV: 12, ohmAt20C: 4, pullInV: 8, dropOutV: 1.5, ...more,
});
const heavy: CircuitElement = { kind: 'contact', id: 'C', between: ['A', 'B'], form: 'NO', coils: ['K'], inrushA: 400 };
const feedContact: CircuitElement = { kind: 'contact', id: 'F', between: ['A', 'I'], form: 'NO', coils: ['K'] };

function relay(circuit: CircuitElement[], more: Partial<Part> = {}): Part {
  return { id: 'relay', partClass: 'start-relay', title: 'relay', terminals: [...STUDS, TAB_S, TAB_I], circuit, mounting: { holes: [], conductive: true }, ...more };
}
const ISOLATED = relay([coil('S', 'I'), heavy]);
const CASE_RETURN = relay([coil('S', 'case'), heavy]);
const CRANKING_FEED = relay([coil('S', 'case'), heavy, feedContact]);
const diodePart = (from: string, to: string): Part => relay([coil('S', 'I'), heavy, { kind: 'diode', from, to }]);

const hang = (tag: string, wasOn: string, leadsTo: Wire['leadsTo']): Wire => ({
  tag, wasOn, leadsTo, end: wasOn === 'A' || wasOn === 'B' ? { form: 'ring', holeMm: 8.4 } : { form: 'receptacle', tabWidthMm: 6.3 },
});
const HEAVY_WIRES = [hang('W1', 'A', 'battery'), hang('W2', 'B', 'starter')];
function machine(wires: Wire[], more: Partial<BenchRecord> = {}, interlocks?: BenchRecord['system']['interlocks']): BenchRecord {
  return {
    system: { nominalV: 12, ...(interlocks ? { interlocks } : {}) }, terminals: [...STUDS, TAB_S, TAB_I, TAB_X], mounting: { holes: [], panelGrounded: true },
    wires: [...HEAVY_WIRES, ...wires], ...more,
  };
}
const IN_RETURN = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'interlocked-return')], {}, 'in-return');
const IN_FEED = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis')], {}, 'in-feed');
const NO_RETURN = machine([hang('W3', 'S', 'start-switch')], {}, 'in-feed');

const codesOf = (record: BenchRecord, part: Part): RefusalCode[] => rewire(record, part).refusals.map((refusal) => refusal.code);
const whyOf = (record: BenchRecord, part: Part, code: RefusalCode): string => rewire(record, part).refusals.find((refusal) => refusal.code === code)?.why ?? '';
const fewest = (record: BenchRecord, part: Part): number | undefined => rewire(record, part).plans[0]?.changes;

describe('plans', () => {
  it('leaves every wire in its place where the part takes it as it is', () => {
    const { plans, refusals, complete } = rewire(IN_RETURN, ISOLATED);
    expect(plans[0]).toMatchObject({ changes: 0, jumpers: [], leftOff: [], bareTerminals: [] });
    expect(plans[0]!.wires.map((wire) => `${wire.tag}>${wire.to}`)).toEqual(['W1>A', 'W2>B', 'W3>S', 'W4>I']);
    expect([refusals, complete]).toEqual([[], true]);
  });

  it('lists the judged states with the control current by Ohm\'s law', () => {
    const { states } = rewire(IN_RETURN, ISOLATED).plans[0]!;
    expect(states.map((s) => [s.startSwitch, s.interlocks, s.pulledIn, s.starterLive])).toEqual([
      [false, false, false, false], [false, true, false, false], [true, false, false, false], [true, true, true, true],
    ]);
    // by hand: battery 10 mOhm into starter (0.5 mOhm + 50 mOhm) beside the coil of 4 Ohm
    const parallel = 1 / (1 / 0.0505 + 1 / 4);
    expect(states[3]!.controlA).toBeCloseTo((12 * parallel) / (0.01 + parallel) / 4, 4);
    expect(states.slice(0, 3).map((s) => s.controlA)).toEqual([0, 0, 0]);
  });

  it('lists the running engine only where there is a cranking feed, and once', () => {
    const record = machine([hang('W3', 'S', 'start-switch'), hang('W5', 'I', 'cranking-feed')], {}, 'in-feed');
    const { plans } = rewire(record, CRANKING_FEED);
    expect(plans[0]!.changes).toBe(0);
    expect(plans[0]!.states.filter((s) => s.engineRuns)).toEqual([
      { startSwitch: false, interlocks: true, engineRuns: true, pulledIn: false, starterLive: false, controlA: 0 },
    ]);
    expect(rewire(IN_FEED, ISOLATED).plans[0]!.states.some((s) => s.engineRuns)).toBe(false);
  });

  it('judges no state with interlocks open where the machine has none', () => {
    const record = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis')], {}, 'none');
    expect(rewire(record, ISOLATED).plans[0]!.states.map((s) => s.interlocks)).toEqual([true, true]);
  });

  it('adds the one jumper that gives the coil its return', () => {
    const { plans } = rewire(NO_RETURN, ISOLATED);
    expect(plans[0]).toMatchObject({ changes: 1, bareTerminals: [] });
    expect(plans.filter((plan) => plan.changes === 1).map((plan) => plan.jumpers)).toEqual([
      [{ from: 'I', to: 'case' }], [{ from: 'I', to: 'chassis' }],
    ]);
  });

  it('never lists a jumper that is not needed, and two at most', () => {
    for (const [record, part] of [[NO_RETURN, ISOLATED], [IN_FEED, ISOLATED], [NO_RETURN, CASE_RETURN]] as const) {
      for (const plan of rewire(record, part).plans) expect(plan.jumpers.length).toBeLessThanOrEqual(2);
    }
    expect(rewire(NO_RETURN, CASE_RETURN).plans[0]!.jumpers).toEqual([]);
  });

  it('counts a new end where the old one does not go on', () => {
    const screws = relay([coil('S', 'I'), heavy], { terminals: [...STUDS, { ...TAB_S, form: 'screw' }, { ...TAB_I, form: 'screw' }] });
    const plan = rewire(IN_RETURN, screws).plans[0]!;
    expect(plan.wires.map((wire) => [wire.moved, wire.newEnd])).toEqual([[false, false], [false, false], [false, true], [false, true]]);
    expect(plan.changes).toBe(2);
  });

  it('gives the later of two receptacles on one tab a new end', () => {
    const two = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis'), hang('W5', 'I', 'chassis')], {}, 'in-feed');
    const plan = rewire(two, ISOLATED).plans[0]!;
    expect(plan.changes).toBe(1);
    const alike = rewire(two, ISOLATED).plans.find((p) => p.wires.every((wire) => !wire.moved) && p.leftOff.length === 0)!;
    expect(alike.wires.map((wire) => wire.newEnd)).toEqual([false, false, false, false, true]);
  });

  it('leaves off only a chassis wire, and counts it', () => {
    for (const plan of rewire(IN_FEED, CASE_RETURN).plans) for (const tag of plan.leftOff) expect(tag).toBe('W4');
    expect(rewire(IN_FEED, CASE_RETURN).plans.some((plan) => plan.leftOff.length === 1 && plan.changes === 1)).toBe(true);
    for (const plan of rewire(IN_RETURN, ISOLATED).plans) expect(plan.leftOff).toEqual([]);
  });

  it('puts battery and starter on the contact rated for it, whatever else the part has', () => {
    const terminals: Terminal[] = [...STUDS, TAB_S, TAB_I, { id: 'P', form: 'stud' }, { id: 'Q', form: 'stud' }];
    const part = relay([coil('S', 'I'), { ...heavy, inrushA: 50 } as CircuitElement, { ...heavy, id: 'D', between: ['P', 'Q'] } as CircuitElement], { terminals });
    for (const plan of rewire(IN_RETURN, part).plans) expect(plan.wires.slice(0, 2).map((wire) => wire.to).sort()).toEqual(['P', 'Q']);
  });

  it('lets a tap ride on the battery stud without counting its current', () => {
    const record = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis'), hang('W6', 'A', 'tap')], { demand: { controlFuseA: 5 } }, 'in-feed');
    expect(fewest(record, ISOLATED)).toBe(0);
  });

  it('lists at most 20, fewest changes first, then fewest moved', () => {
    const many = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis')], { mounting: { holes: [] } }, 'in-feed');
    const spare = relay([coil('S', 'I'), heavy], { terminals: [...STUDS, TAB_S, TAB_I, TAB_X, { ...TAB_X, id: 'Y' }] });
    const { plans, complete } = rewire(many, spare);
    expect([plans.length, complete]).toEqual([20, true]);
    const keys = plans.map((plan) => plan.changes * 100 + plan.wires.filter((wire) => wire.moved).length);
    expect(keys).toEqual([...keys].sort((a, b) => a - b));
  });

  it('says so when the bounded search was cut off', () => {
    expect(rewire(IN_RETURN, CASE_RETURN, { limits: { evaluations: 3 } }).complete).toBe(false);
    expect(rewire(IN_RETURN, CASE_RETURN, { limits: { candidates: 10 } }).complete).toBe(false);
    expect(rewire(IN_RETURN, CASE_RETURN).complete).toBe(true);
  });

  it('takes a starter with its own solenoid without a starter wire, and grounds its motor', () => {
    const starterPart = (other: string): Part => ({
      id: 'starter', partClass: 'starter-motor', title: 'starter', terminals: [STUDS[0]!, TAB_S, { id: 'M-', form: 'stud' }], inside: ['m'],
      circuit: [coil('S', 'm', { id: 'pull', ohmAt20C: 0.5 }), coil('S', 'case', { id: 'hold', ohmAt20C: 1.5 }),
        { kind: 'contact', id: 'C', between: ['A', 'm'], form: 'NO', coils: ['pull', 'hold'] }, { kind: 'motor', between: ['m', other], ohm: 0.03 }],
      mounting: { holes: [], conductive: true },
    });
    const record: BenchRecord = { ...NO_RETURN, wires: [hang('W1', 'A', 'battery'), hang('W3', 'S', 'start-switch')] };
    expect(fewest(record, starterPart('case'))).toBe(0);
    expect(rewire(record, starterPart('M-')).plans[0]!.jumpers).toEqual([{ from: 'M-', to: 'case' }]);
    expect(codesOf(record, ISOLATED)).toEqual(['wire-not-traced']);
  });
});

describe('every refusal, with what would happen', () => {
  it('shorts-a-wire: a ground wire on the terminal that goes live while cranking', () => {
    expect(codesOf(IN_FEED, CRANKING_FEED)).toContain('shorts-a-wire');
    // by hand: 12 V through battery 10 mOhm and contact 0.5 mOhm
    expect(whyOf(IN_FEED, CRANKING_FEED, 'shorts-a-wire')).toMatch(/W4 .*on I .*about 11[34]0 A/);
  });

  it('over-fuse: the coil takes more than the control fuse', () => {
    const record = { ...IN_FEED, demand: { controlFuseA: 2 } };
    expect(codesOf(record, ISOLATED)).toEqual(['over-fuse']);
    expect(rewire(record, ISOLATED).plans).toEqual([]);
    expect(whyOf(record, ISOLATED, 'over-fuse')).toContain('2 A');
    expect(codesOf({ ...IN_FEED, demand: { controlFuseA: 3 } }, ISOLATED)).toEqual([]);
  });

  it('defeats-interlock: the coil returns through the case', () => {
    expect(rewire(IN_RETURN, CASE_RETURN).plans).toEqual([]);
    expect(codesOf(IN_RETURN, CASE_RETURN)).toContain('defeats-interlock');
  });

  it('never-pulls-in: the coil has no return', () => {
    const record = { ...IN_FEED, mounting: { holes: [], panelGrounded: false } };
    expect(codesOf(record, CASE_RETURN)).toEqual(['never-pulls-in']);
    expect(whyOf(record, CASE_RETURN, 'never-pulls-in')).toMatch(/coil K would get 0 V and needs 8 V/);
  });

  it('always-pulled-in: the coil hangs on the battery stud', () => {
    expect(codesOf(IN_FEED, relay([coil('A', 'I'), heavy]))).toContain('always-pulled-in');
  });

  it('starter-always-live: the heavy contact is closed at rest', () => {
    expect(codesOf(IN_FEED, relay([coil('S', 'I'), { ...heavy, form: 'NC' } as CircuitElement]))).toContain('starter-always-live');
  });

  it('latches: the starter stud holds the coil', () => {
    const part = relay([coil('S', 'I'), heavy, { kind: 'resistor', between: ['B', 'S'], ohm: 1 }]);
    expect(codesOf(IN_FEED, part)).toContain('latches');
    expect(whyOf(IN_FEED, part, 'latches')).toContain('Once in');
    expect(codesOf(IN_FEED, relay([coil('S', 'I'), heavy, { kind: 'resistor', between: ['B', 'S'], ohm: 100 }]))).toEqual([]);
  });

  it('chatters: the coil feeds itself through a contact it opens', () => {
    const part = relay([coil('n', 'I'), heavy, { kind: 'contact', id: 'N', between: ['S', 'n'], form: 'NC', coils: ['K'] }], { inside: ['n'] });
    expect(codesOf(IN_FEED, part)).toEqual(['chatters']);
  });

  it('back-feeds: the cranking feed works the coil while the engine runs', () => {
    const record = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis'), hang('W5', 'S', 'cranking-feed')], {}, 'in-feed');
    expect(codesOf(record, ISOLATED)).toContain('back-feeds');
  });

  it('cranking-feed-lost: nothing makes the feed live', () => {
    const record = machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis'), hang('W5', 'X', 'cranking-feed')], {}, 'in-feed');
    const part = relay([coil('S', 'I'), heavy], { terminals: [...STUDS, TAB_S, TAB_I, TAB_X] });
    expect(codesOf(record, part)).toContain('cranking-feed-lost');
  });

  it('cranking-feed-lost: said where the other wires would do without the feed', () => {
    const record = machine([hang('W3', 'S', 'start-switch'), hang('W5', 'I', 'cranking-feed')], {}, 'in-feed');
    const part = diodePart('I', 'S');
    expect(rewire(record, part).plans).toEqual([]);
    expect(whyOf(record, part, 'cranking-feed-lost')).toMatch(/^Nothing of this part is live only while cranking: wire W5/);
  });

  it('no-terminal: the new part has nothing that answers to the old place', () => {
    const three = relay([coil('S', 'case'), heavy], { terminals: [...STUDS, TAB_S].map((terminal) => ({ ...terminal, at: undefined })) });
    expect(codesOf(IN_RETURN, three)).toEqual(expect.arrayContaining(['no-terminal']));
    expect(codesOf(IN_FEED, three)).toEqual([]);
  });

  it('no-terminal: the part has no contact for battery and starter', () => {
    expect(codesOf(IN_FEED, relay([coil('S', 'I')])).length).toBeGreaterThan(0);
    expect(rewire(IN_FEED, relay([coil('S', 'I')])).plans).toEqual([]);
  });

  it('polarity: the diode inside stands the wrong way for the wires', () => {
    expect(codesOf(IN_FEED, diodePart('S', 'I'))).toContain('polarity');
    expect(whyOf(IN_FEED, diodePart('S', 'I'), 'polarity')).toContain('diode');
  });

  it('wire-not-traced: with the measurement that traces it', () => {
    const record = { ...IN_FEED, wires: [...HEAVY_WIRES, hang('W3', 'S', 'start-switch'), hang('W4', 'I', undefined)] };
    expect(rewire(record, ISOLATED)).toMatchObject({ plans: [], refusals: [{ code: 'wire-not-traced', why: expect.stringMatching(/W4.*measure/) }] });
    expect(codesOf({ ...IN_FEED, wires: HEAVY_WIRES }, ISOLATED)).toEqual(['wire-not-traced']);
    expect(codesOf({ system: { nominalV: 12 } }, ISOLATED)).toContain('wire-not-traced');
  });
});

describe('what catches people out, each beside its safe twin', () => {
  it('trap 2: small terminals that look alike', () => {
    expect(codesOf(IN_FEED, CRANKING_FEED)).toContain('shorts-a-wire');
    expect(codesOf(IN_FEED, ISOLATED)).toEqual([]);
    // The feed terminal bare and the ground wire elsewhere is right.
    expect(rewire(IN_FEED, CRANKING_FEED).plans[0]).toMatchObject({ changes: 1 });
  });

  it('trap 3: a return through the case defeats the seat switch', () => {
    const first = findFirstPlan(IN_RETURN, CASE_RETURN);
    expect(first.plan).toBeNull();
    expect(first.refusals[0]!.code).toBe('defeats-interlock');
    expect(first.interlock.outcome).toBe('fail');
    expect(findFirstPlan(IN_RETURN, ISOLATED)).toMatchObject({ rightBothWays: true, interlock: { outcome: 'pass' } });
  });

  it('trap 3: says so too where the part has no place for the return at all', () => {
    const three = relay([coil('S', 'case'), heavy], { terminals: [...STUDS, TAB_S].map((terminal) => ({ ...terminal, at: undefined })) });
    const first = findFirstPlan(IN_RETURN, three);
    expect(first.plan).toBeNull();
    expect(first.refusals.find((refusal) => refusal.code === 'defeats-interlock')!.why).toMatch(/W4/);
    expect(first.interlock.outcome).toBe('fail');
  });

  it('never makes the case live, though the coil would then work', () => {
    const insulated = { ...IN_RETURN, mounting: { holes: [], panelGrounded: false } };
    for (const plan of rewire(insulated, CASE_RETURN).plans) {
      for (const jumper of plan.jumpers) if ([jumper.from, jumper.to].includes('case')) expect(jumper).toEqual({ from: 'case', to: 'chassis' });
    }
    expect(findFirstPlan(insulated, CASE_RETURN)).toMatchObject({ plan: null, interlock: { outcome: 'fail' } });
  });

  it('says when a plan hangs on a start circuit that was not measured finely enough', () => {
    const low = relay([coil('S', 'I', { ohmAt20C: 0.5, pullInV: 10 }), heavy]);
    const measured = (value: number, plusMinus: number): BenchRecord => ({ ...IN_FEED, demand: { controlFuseA: 60, controlOhm: { value, plusMinus } } });
    expect(findFirstPlan(measured(0.02, 0.005), low)).toMatchObject({ plan: { changes: 0 }, hangsOnControlOhm: false });
    expect(findFirstPlan(measured(0.02, 0.2), low)).toMatchObject({ plan: { changes: 0 }, hangsOnControlOhm: true });
    expect(findFirstPlan(measured(0.02, 0.2), ISOLATED).hangsOnControlOhm).toBe(false);
  });

  it('refuses no part for a start circuit measured too coarsely: a plan that is right at an end of the interval stands in doubt', () => {
    // 12 * 0.5 / (0.51 + ohm) is 10 V at 0.09 Ohm.
    const low = relay([coil('S', 'I', { ohmAt20C: 0.5, pullInV: 10 }), heavy]);
    const measured = (plusMinus: number): BenchRecord => ({ ...IN_FEED, demand: { controlFuseA: 60, controlOhm: { value: 0.12, plusMinus } } });
    expect(findFirstPlan(measured(0.05), low)).toMatchObject({ plan: { changes: 0 }, hangsOnControlOhm: true, onlyAtControlOhm: expect.closeTo(0.07, 9), interlock: { outcome: 'pass' } });
    expect(findFirstPlan(measured(0.02), low)).toMatchObject({ plan: null, judged: true });
    // Nearer the battery more flows: past the fuse at the value, and not at the upper end.
    const fused: BenchRecord = { ...IN_FEED, demand: { controlFuseA: 17, controlOhm: { value: 0.08, plusMinus: 0.05 } } };
    const hungry = relay([coil('S', 'I', { ohmAt20C: 0.5, pullInV: 8 }), heavy]);
    expect(findFirstPlan(fused, hungry)).toMatchObject({ plan: { changes: 0 }, onlyAtControlOhm: expect.closeTo(0.13, 9) });
  });

  it('trap 8: the bracket as the return path on a painted panel', () => {
    const on = (panelGrounded?: boolean): BenchRecord => ({ ...NO_RETURN, mounting: { holes: [], panelGrounded } });
    expect(fewest(on(true), CASE_RETURN)).toBe(0);
    expect(rewire(on(false), CASE_RETURN).plans[0]).toMatchObject({ changes: 1, jumpers: [{ from: 'case', to: 'chassis' }] });
    const unknown = rewire(on(), CASE_RETURN);
    expect(unknown.plans.map((plan) => [plan.changes, plan.jumpers.length])).toEqual(expect.arrayContaining([[0, 0], [1, 1]]));
    expect(unknown.assumptions.some((line) => line.startsWith('Plan 1 is right only if the case reaches battery minus'))).toBe(true);
    expect(findFirstPlan(on(), CASE_RETURN)).toMatchObject({ rightBothWays: true, leansOn: null, plan: { changes: 1, jumpers: [{ from: 'case', to: 'chassis' }] } });
  });

  it('trap 9: a coil with a diode inside has a plus and a minus', () => {
    const turned = findFirstPlan(IN_FEED, diodePart('S', 'I'));
    expect(turned).toMatchObject({ plan: { changes: 2 }, polarity: { outcome: 'pass' } });
    expect(findFirstPlan(IN_FEED, diodePart('I', 'S'))).toMatchObject({ plan: { changes: 0 }, polarity: { outcome: 'pass' } });
    expect(findFirstPlan(IN_FEED, ISOLATED).polarity).toBeNull();
  });
});

describe('assumptions and cautions', () => {
  it('lists each default that was used', () => {
    const bare = relay([{ kind: 'coil', id: 'K', between: ['S', 'I'], nominalV: 12 }, heavy]);
    const { assumptions } = rewire(machine([hang('W3', 'S', 'start-switch'), hang('W4', 'I', 'chassis')]), bare);
    for (const words of ['no resistance: 4 Ohm', 'no pull-in: 8.4 V', 'no drop-out: 1.2 V', 'in-feed', '20 A']) {
      expect(assumptions.some((line) => line.includes(words)), words).toBe(true);
    }
    const told = rewire(IN_FEED, bare, { findCoilOhm: () => ({ ohm: 5, source: 'median of 7' }) });
    expect(told.assumptions.some((line) => line.includes('5 Ohm (median of 7)'))).toBe(true);
  });

  it('wires a coil of another voltage all the same, with a caution', () => {
    const { plans, cautions } = rewire(IN_FEED, relay([coil('S', 'I', { nominalV: 24, ohmAt20C: 16, pullInV: 16, dropOutV: 3 }), heavy]));
    expect(plans[0]!.changes).toBe(0);
    expect(cautions.some((line) => line.includes('24 V') && line.includes('12 V'))).toBe(true);
    expect(rewire(IN_FEED, ISOLATED).cautions.some((line) => line.includes('24 V'))).toBe(false);
  });
});

describe('one rewirer for many parts', () => {
  it('gives the first plan that the whole answer gives, and the same answer again for an equal part', () => {
    for (const part of [ISOLATED, CASE_RETURN, CRANKING_FEED, diodePart('S', 'I')]) {
      const rewirer = createRewirer(IN_FEED);
      expect(rewirer.findFirstPlan(part).plan).toEqual(rewire(IN_FEED, part).plans[0] ?? null);
      expect(rewirer.findFirstPlan({ ...part, id: 'other' })).toEqual(rewirer.findFirstPlan(part));
      expect(rewireAnswer.parse(rewirer.rewire(part))).toEqual(rewire(IN_FEED, part));
    }
  });

  it('changes neither record nor part, and hands out answers of their own', () => {
    const freeze = <T>(value: T): T => {
      if (typeof value === 'object' && value !== null) Object.values(Object.freeze(value)).forEach(freeze);
      return value;
    };
    const rewirer = createRewirer(freeze(structuredClone(IN_RETURN)));
    const part = freeze(structuredClone(ISOLATED));
    rewirer.rewire(part).plans.length = 0;
    expect(rewirer.rewire(part).plans.length).toBeGreaterThan(0);
  });
});

describe('answers do not hang on names or order', () => {
  const pairs = [[IN_RETURN, ISOLATED], [IN_FEED, CRANKING_FEED], [IN_FEED, diodePart('S', 'I')], [NO_RETURN, CASE_RETURN], [IN_RETURN, CASE_RETURN]] as const;
  const shapeOf = (record: BenchRecord, part: Part): unknown => {
    const { plans, refusals } = rewire(record, part);
    return [plans.map((plan) => [plan.changes, plan.jumpers.length, plan.states.map((s) => s.controlA)]), refusals.map((refusal) => refusal.code)];
  };

  it('is the same when terminals are renamed', () => {
    const rename = (node: string): string => (node === 'case' ? node : `t-${node}`);
    for (const [record, part] of pairs) {
      const renamed: Part = { ...part, terminals: part.terminals.map((t) => ({ ...t, id: rename(t.id) })), circuit: part.circuit.map((element) => (
        element.kind === 'diode' ? { ...element, from: rename(element.from), to: rename(element.to) }
          : { ...element, between: [rename(element.between[0]), rename(element.between[1])] })) };
      const old: BenchRecord = {
        ...record, terminals: record.terminals!.map((t) => ({ ...t, id: rename(t.id) })), wires: record.wires!.map((w) => ({ ...w, wasOn: rename(w.wasOn) })),
      };
      expect(shapeOf(old, renamed)).toEqual(shapeOf(record, part));
    }
  });

  it('is the same when wires, elements and terminals stand in another order, and contacts and coils are turned end for end', () => {
    for (const [record, part] of pairs) {
      const turned: Part = {
        ...part, terminals: part.terminals.toReversed(),
        circuit: part.circuit.map((e) => (e.kind === 'diode' ? e : { ...e, between: [e.between[1], e.between[0]] as [string, string] })).toReversed(),
      };
      expect(shapeOf({ ...record, wires: record.wires!.toReversed() }, turned)).toEqual(shapeOf(record, part));
    }
  });
});
