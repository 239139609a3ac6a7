import { describe, expect, it } from 'vitest';
import type { BenchRecord, JobDocument, Plan } from '../../../catalog-schema/index.ts';
import { fingerprintOf, fingerprintWork } from './fingerprint.ts';
import { makeSteps } from './make-steps.ts';
import { AT as at, basis, facts, makeFacts, part, plan, record, tickOf } from './sample-checklist.ts';
import { findSignOffBlocks, type AsLeftFacts } from './sign-off.ts';
import { isSignedOff, stateOfSignOff } from './sign-off-state.ts';

const steps = makeSteps(facts);
const allTicks: NonNullable<JobDocument['asLeft']> = Object.fromEntries(steps.filter((step) => step.required).map((step) => [step.id, tickOf(step)]));
const without = (...ids: string[]): NonNullable<JobDocument['asLeft']> => Object.fromEntries(Object.entries(allTicks).filter(([id]) => !ids.includes(id)));
const stepsIn = (given: AsLeftFacts): (string | null)[] => findSignOffBlocks(given).map(({ step }) => step);
const pathsIn = (given: AsLeftFacts): string[] => findSignOffBlocks(given).map(({ path }) => path);
const withSystem = (system: Partial<BenchRecord['system']>): BenchRecord => ({ ...record, system: { ...record.system, ...system } });

describe('a sign-off', () => {
  it('has nothing in its way once every required step is closed, whatever is open that may be left out', () => {
    expect(findSignOffBlocks(makeFacts(allTicks))).toEqual([]);
    expect(steps.filter((step) => !step.required).length).toBeGreaterThan(0);
  });

  it('is in the way of each required step that is open, one block each, by name', () => {
    for (const { id } of steps.filter((step) => step.required)) expect(stepsIn(makeFacts(without(id)))).toEqual([id]);
    expect(findSignOffBlocks(makeFacts(without('interlock-Seat')))).toEqual([{
      path: 'asLeft.interlock-Seat', found: 'nothing', step: 'interlock-Seat',
      want: 'Open “Seat”, hold START: it must not crank; made again, it must', says: 'Open “Seat”, hold START: it must not crank; made again, it must',
    }]);
  });

  it('is stopped by what went wrong, also where the step may be left out', () => {
    expect(stepsIn(makeFacts({ ...allTicks, 'interlock-Seat': { ...allTicks['interlock-Seat']!, outcome: 'bad' } }))).toEqual(['interlock-Seat']);
    const ohms = steps.find((step) => step.id === 'read-coil-ohms')!;
    expect(stepsIn(makeFacts({ ...allTicks, [ohms.id]: { ...tickOf(ohms), reading: 9 } }))).toEqual(['read-coil-ohms']);
    expect(findSignOffBlocks(makeFacts({ ...allTicks, 'read-contact-drop': { ...allTicks['read-contact-drop']!, reading: 0.31 } }))[0]!.found)
      .toBe('the meter showed 0.31 V, outside the limit');
  });

  it('is not helped by ticks of steps that nobody asks for, or of another wiring', () => {
    expect(stepsIn(makeFacts({ ...without('interlock-Seat'), 'interlock-Seats': allTicks['interlock-Seat']!, elsewhere: allTicks['mount']! }))).toEqual(['interlock-Seat']);
    const old = Object.fromEntries(Object.entries(allTicks).map(([id, tick]) => [id, { ...tick, of: 'another' }]));
    expect(stepsIn(makeFacts(old))).toEqual(steps.filter((step) => step.required).map((step) => step.id));
  });

  it('asks for the list of interlocks, and takes an empty one only where none is spoken of', () => {
    const unlisted = withSystem({});
    delete unlisted.system.interlockList;
    expect(pathsIn(makeFacts(without('interlock-Seat', 'interlock-Lid'), { record: unlisted }))).toEqual(['record.system.interlockList']);
    expect(pathsIn(makeFacts(allTicks, { record: withSystem({ interlockList: [] }) }))).toEqual([]);
    expect(pathsIn(makeFacts(allTicks, { record: withSystem({ interlockList: [], interlocks: 'in-return' }) }))).toEqual(['record.system.interlockList']);
    expect(pathsIn(makeFacts(allTicks, { record: withSystem({ interlockList: [], interlocks: 'both' }) }))).toHaveLength(2);
    expect(pathsIn(makeFacts(allTicks, { record: withSystem({ interlocks: 'in-feed' }) }))).toEqual(['record.system.interlockList']);
    expect(pathsIn(makeFacts(allTicks, { record: withSystem({ interlocks: 'in-return' }) }))).toEqual([]);
  });

  it('asks for the list where a wire leads to an interlocked return, whatever is said of the machine', () => {
    const wires = record.wires!.map((wire) => (wire.tag === '5' ? { ...wire, leadsTo: 'interlocked-return' as const } : wire));
    const found = findSignOffBlocks(makeFacts(allTicks, { record: { ...withSystem({ interlockList: [{ name: 'Lid', acts: 'stops-engine' }] }), wires } }));
    expect(found.map(({ path }) => path)).toContain('record.system.interlockList');
  });

  it('needs a choice, a part that the catalogue has, and the engine’s word on both', () => {
    expect(pathsIn({ ...makeFacts(allTicks), document: { title: 't', record: {} } })).toEqual(['chosen']);
    expect(pathsIn({ ...makeFacts(allTicks), part: undefined })).toEqual(['chosen.partId']);
    expect(pathsIn({ ...makeFacts(allTicks), basis: undefined })).toContain('chosen');
    expect(pathsIn(makeFacts(allTicks, { basis: { ...basis, partId: 'p2' } }))).toContain('chosen');
    expect(pathsIn(makeFacts(allTicks, { basis: { ...basis, verdict: 'no' } }))).toEqual(['chosen']);
  });

  it('is refused while a field holds two values', () => {
    expect(findSignOffBlocks({ ...makeFacts(allTicks), conflicts: 2 }).map(({ found }) => found)).toEqual(['2']);
  });

  it('is refused for a plan that is none of the right ones, and for wires that have changed since the choice', () => {
    const other: Plan = { ...plan, wires: plan.wires.map((wire) => (wire.tag === '4' ? { ...wire, to: '2' } : wire)) };
    expect(pathsIn(makeFacts(allTicks, { document: { chosen: { partId: 'p1', plan: other } } }))).toContain('chosen.plan');
    expect(pathsIn(makeFacts(allTicks, { document: { chosen: { partId: 'p1', plan: null } } }))).toContain('chosen.plan');
    const one = { ...record, wires: [...record.wires!, { tag: '6', wasOn: 'B' }] };
    expect(pathsIn(makeFacts(allTicks, { record: one }))).toEqual(['chosen.plan']);
    const alternative = makeFacts(allTicks, { document: { chosen: { partId: 'p1', plan: other } }, basis: { ...basis, plans: [plan, other] } });
    expect(pathsIn(alternative)).not.toContain('chosen.plan');
  });

  it('is refused for a part with a coil whose wiring nobody knows, naming the wires to be traced, and not for a bare motor', () => {
    const unwired = { ...basis, plan: null, plans: [] };
    const chosen = { partId: 'p1', plan: null };
    const saysOf = (given: BenchRecord): string[] => findSignOffBlocks(makeFacts(undefined, { record: given, basis: unwired, document: { chosen } })).filter(({ path }) => path === 'chosen.plan').map(({ says }) => says);
    expect(saysOf({ ...record, wires: record.wires!.map((wire) => (wire.tag === '4' ? { tag: '4', wasOn: 'B' } : wire)) })[0]).toContain('where 4 leads has still to be traced');
    expect(saysOf({ ...record, wires: [] })[0]).toContain('record its wires first');
    expect(saysOf(record)[0]).toContain('no wiring that is right');
    const motor = { ...part, partClass: 'starter-motor' as const, circuit: [{ kind: 'motor' as const, between: ['1', 'case'] as [string, string] }] };
    expect(findSignOffBlocks({ ...makeFacts(undefined, { basis: unwired, document: { chosen } }), part: motor }).map(({ path }) => path)).not.toContain('chosen.plan');
  });

  it('asks for the tests of the right plan, also where the stored one was made to say less', () => {
    const running = { startSwitch: false, interlocks: true, engineRuns: true, pulledIn: false, starterLive: false, controlA: 0 };
    const right = { ...basis, plan: { ...plan, states: [running] }, plans: [{ ...plan, states: [running] }] };
    expect(stepsIn(makeFacts(allTicks, { basis: right }))).toEqual(['running']);
  });
});

describe('a sign-off that was given', () => {
  const sign = (document: JobDocument): JobDocument => ({ ...document, signedOff: { at, by: 'J', of: fingerprintWork(document) } });
  const signed = sign(makeFacts(allTicks).document);

  it('stands while wires, choice and ticks are the same, and lapses with each of them', () => {
    expect(stateOfSignOff(makeFacts(allTicks).document)).toBe('none');
    expect(isSignedOff(signed)).toBe(true);
    expect(isSignedOff({ ...signed, customer: 'Another', title: 'Other words', notes: 'x', chosen: { ...signed.chosen!, title: 'A relay' } })).toBe(true);
    expect(isSignedOff({ ...signed, asLeft: { ...allTicks, mount: { ...allTicks['mount']!, by: 'Jo' } } })).toBe(true);
    expect(stateOfSignOff({ ...signed, asLeft: { ...allTicks, mount: { ...allTicks['mount']!, at: '2026-11-25T11:00:00.000Z' } } })).toBe('lapsed');
    const wires = (signed.record as { wires: Record<string, object> }).wires;
    expect(stateOfSignOff({ ...signed, record: { ...signed.record, wires: { ...wires, 1: { ...wires['1'], colour: 'BU' } } } })).toBe('lapsed');
    expect(stateOfSignOff({ ...signed, chosen: { ...signed.chosen!, partId: 'p2' } })).toBe('lapsed');
    expect(stateOfSignOff({ ...signed, asLeft: { ...allTicks, 'interlock-Seat': { ...allTicks['interlock-Seat']!, outcome: 'bad' } } })).toBe('lapsed');
    expect(stateOfSignOff({ ...signed, asLeft: without('mount') })).toBe('lapsed');
    expect(stateOfSignOff({ ...signed, record: { ...signed.record, system: { nominalV: 12 } } })).toBe('lapsed');
  });

  it('does not stand without the fingerprint of what was signed', () => {
    expect(stateOfSignOff({ ...signed, signedOff: { at, by: 'J' } })).toBe('lapsed');
    expect(stateOfSignOff({ ...signed, signedOff: { at, by: 'J', of: fingerprintOf('something') } })).toBe('lapsed');
  });
});

describe('a fingerprint', () => {
  it('is the same for equal values in any order of keys, and another for each other value', () => {
    expect(fingerprintOf({ a: 1, b: [1, { c: null }] })).toBe(fingerprintOf({ b: [1, { c: null }], a: 1 }));
    const values = [undefined, null, 0, '0', [], {}, [0], ['0'], { a: 0 }, { a: '0' }, { a: [0] }, [[0]], 'a', { b: 0 }, [0, 1], [1, 0], '{"a":0}', { a: undefined, b: 1 }];
    expect(new Set(values.map(fingerprintOf)).size).toBe(values.length - 1);
    expect(fingerprintOf({ a: undefined, b: 1 })).toBe(fingerprintOf({ b: 1 }));
  });

  it('tells apart ten thousand lists that differ in one place', () => {
    expect(new Set(Array.from({ length: 10_000 }, (_, n) => fingerprintOf(['interlock', `Seat ${n % 100}`, Math.floor(n / 100)]))).size).toBe(10_000);
  });
});
