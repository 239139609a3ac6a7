import { describe, expect, it } from 'vitest';
import type { BenchRecord, FitAnswer, Plan, ProveAnswer } from '../../catalog-schema/index.ts';
import { fingerprintWork, type AsLeftBasis } from '../worker/as-left.ts';
import { countHanging, reportSteps, STEP_NAMES, type StepFacts } from './step-states.ts';

const blank: BenchRecord = { system: { nominalV: 12 } };
const facts = (record: BenchRecord, more: Partial<StepFacts> = {}): StepFacts =>
  ({ document: { title: 't', record: {} }, record, fit: undefined, basis: undefined, identify: undefined, gotPartIds: [], ...more });
const kinds = (lacks: readonly { kind: string }[]): string[] => lacks.map((lack) => lack.kind);
const wired: BenchRecord = {
  ...blank, partClass: 'start-relay', terminals: [{ id: 'A', form: 'stud' }, { id: 'B', form: 'stud' }, { id: 'C', form: 'tab' }],
  wires: [
    { tag: '1', wasOn: 'A', leadsTo: 'battery', end: { form: 'bare' } }, { tag: '2', wasOn: 'B', leadsTo: 'starter', end: { form: 'bare' } },
    { tag: '3', wasOn: 'C', leadsTo: 'start-switch', end: { form: 'bare' } },
  ],
};
const plan: Plan = {
  wires: [{ tag: '1', from: 'A', to: 'x', moved: false, newEnd: false }, { tag: '2', from: 'B', to: 'y', moved: false, newEnd: false }, { tag: '3', from: 'C', to: 'z', moved: false, newEnd: false }],
  jumpers: [], leftOff: [], bareTerminals: [], changes: 0, states: [],
};

describe('the states of the steps', () => {
  it('are all empty on a blank job', () => {
    const reports = reportSteps(facts(blank));
    expect(STEP_NAMES.map((step) => reports[step].state)).toEqual(STEP_NAMES.map(() => 'empty'));
  });

  it('show Prove begun by what was seen, done by a proof, and ask for a look where readings quarrel or the proof pays for another part', () => {
    const proof = (more: Partial<ProveAnswer>): ProveAnswer => ({
      faults: [{ fault: 'relay-contacts', probability: 0.5 }], proven: null, cleared: [], orderable: null, conflicts: [], nextTest: [], worthUnit: 'bit', cautions: [], assumptions: [], carriedBy: [], ...more,
    });
    const document = { title: 't', record: {}, prove: { seen: { 'sound on': { kind: 'sound', heard: 'one-click' } as const } } };
    const prove = (more: Partial<StepFacts>) => reportSteps(facts(wired, { document, ...more })).prove;
    expect(prove({}).state).toBe('begun');
    expect(prove({ proof: proof({}) })).toEqual({ state: 'begun', lacks: [{ kind: 'no-proof' }] });
    const proven = proof({ proven: 'starter-open', orderable: 'starter' });
    expect(prove({ proof: proven })).toEqual({ state: 'done', lacks: [] });
    expect(prove({ proof: proven, document: { ...document, chosen: { partId: 'p', plan } } })).toEqual({ state: 'look', lacks: [{ kind: 'proves-another' }] });
    expect(prove({ proof: proof({ conflicts: [{ paths: ['seen[0]'], why: '' }] }) }).state).toBe('look');
  });

  it('show As found done once every wire is traced and has its end, with the three wires a start circuit needs', () => {
    expect(reportSteps(facts(wired))['as-found']).toEqual({ state: 'done', lacks: [] });
  });

  it('name the wire that is missing, and the one that is not traced', () => {
    const half: BenchRecord = { ...wired, wires: [wired.wires![0]!, { tag: '2', wasOn: 'B' }] };
    expect(kinds(reportSteps(facts(half))['as-found'].lacks)).toEqual(['no-wire-to', 'no-wire-to', 'not-traced', 'no-end']);
    expect(reportSteps(facts(half))['as-found'].state).toBe('begun');
  });

  it('ask for a look where somebody has said that a wire could not be traced', () => {
    const lost: BenchRecord = { ...wired, wires: [...wired.wires!, { tag: '4', wasOn: 'C', leadsTo: 'unknown', end: { form: 'bare' } }] };
    expect(reportSteps(facts(lost))['as-found'].state).toBe('look');
  });

  it('say at Bench that a stud has a diameter and no pitch', () => {
    const measured: BenchRecord = { ...blank, terminals: [{ id: 'A', form: 'stud', majorDiameterMm: 7.9 }] };
    const { lacks } = reportSteps(facts(measured)).bench;
    expect(lacks).toContainEqual({ kind: 'no-pitch', names: ['A'] });
    expect(kinds(lacks)).not.toContain('no-stud-size');
  });

  it('ask for a look at Fits when the wires have changed since the part was chosen', () => {
    const document = { title: 't', record: {}, chosen: { partId: 'p', plan } };
    expect(reportSteps(facts(wired, { document })).fits.state).toBe('done');
    const more: BenchRecord = { ...wired, wires: [...wired.wires!, { tag: '4', wasOn: 'C', leadsTo: 'chassis' }] };
    expect(reportSteps(facts(more, { document })).fits).toEqual({ state: 'look', lacks: [{ kind: 'wires-changed-since-chosen' }] });
  });

  it('ask for a look at Fits when the engine now finds another wiring than the one that was chosen', () => {
    const document = { title: 't', record: {}, chosen: { partId: 'p', plan } };
    const found = (...plans: Plan[]): AsLeftBasis => ({ partId: 'p', verdict: 'adapt', plan: plans[0]!, plans, placement: null, kit: [] });
    const other = { ...plan, jumpers: [{ from: 'z', to: 'chassis' }] };
    expect(reportSteps(facts(wired, { document, basis: found({ ...plan, changes: 9 }) })).fits.state).toBe('done');
    expect(reportSteps(facts(wired, { document, basis: found(other) })).fits.state).toBe('look');
    expect(reportSteps(facts(wired, { document, basis: found(other, plan) })).fits.state).toBe('done');
  });

  it('ask for a look at Get when another part than the chosen one is put aside', () => {
    const document = { title: 't', record: {}, chosen: { partId: 'p', plan } };
    expect(reportSteps(facts(wired, { document, gotPartIds: ['p'] })).get.state).toBe('done');
    expect(reportSteps(facts(wired, { document, gotPartIds: ['q'] })).get.state).toBe('look');
  });

  it('ask for a look at As left when a step went wrong, even after a sign-off', () => {
    const at = '2026-11-25T10:00:00.000Z';
    const document = { title: 't', record: {}, asLeft: { cranks: { at, outcome: 'bad' as const } }, signedOff: { at, by: 'A' } };
    expect(reportSteps(facts(wired, { document }))['as-left'].state).toBe('look');
  });

  it('take a sign-off for done while it stands, and ask for a look once it has lapsed', () => {
    const at = '2026-11-25T10:00:00.000Z';
    const document = { title: 't', record: {}, asLeft: { mount: { at, by: 'A' } } };
    const signed = { ...document, signedOff: { at, by: 'A', of: fingerprintWork(document) } };
    const states = (given: typeof signed): string[] => (['as-left', 'record'] as const).map((step) => reportSteps(facts(wired, { document: given }))[step].state);
    expect(states(signed)).toEqual(['done', 'done']);
    expect(states({ ...signed, asLeft: { mount: { at: '2026-11-25T12:00:00.000Z', by: 'A' } } })).toEqual(['look', 'look']);
  });

  it('count the fits that hang on a criterion among those that may go on', () => {
    const fit = (verdict: 'unproven' | 'no' | 'direct', outcome: 'unknown' | 'pass'): FitAnswer['fits'][number] => ({
      partId: verdict + outcome, verdict, fitProbability: null, expectedCost: null, rewire: null, placement: null, kit: [],
      checks: [{ criterion: 'stud', outcome, safety: false, needed: '', offered: '', why: '' }],
    });
    const answer: FitAnswer = { considered: 4, fits: [fit('direct', 'pass'), fit('unproven', 'unknown'), fit('no', 'unknown')], measureNext: [], worthUnit: 'bit', cautions: [], assumptions: [] };
    expect(countHanging(answer, 'stud')).toEqual({ hanging: 1, of: 2 });
    expect(countHanging(undefined, 'stud')).toEqual({ hanging: 0, of: 0 });
  });
});
