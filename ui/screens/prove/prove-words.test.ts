import { describe, expect, it } from 'vitest';
import type { Observation, ProveAnswer } from '../../../catalog-schema/index.ts';
import { findInterlocks } from './interlocks-act.ts';
import { sayConsequence, sayVerdict } from './say-verdict.ts';
import { tapPoint, type Probes } from './tap-point.ts';

const answer = (more: Partial<ProveAnswer>): ProveAnswer => ({
  faults: [{ fault: 'relay-contacts', probability: 0.6 }, { fault: 'starter-open', probability: 0.3 }], proven: null, cleared: [], orderable: null, conflicts: [], nextTest: [], carriedBy: [],
  worthUnit: 'bit', cautions: [], assumptions: [], ...more,
});
const studs: Observation = { kind: 'volts', startSwitch: true, plus: 'relay-battery-stud', minus: 'relay-starter-stud', volts: 12.1 };

describe('the verdict in one sentence', () => {
  it('names the fault and the evidence that carries it, two pieces at most', () => {
    const proven = answer({ proven: 'relay-contacts', orderable: 'start-relay' });
    expect(sayVerdict(proven, [studs, { kind: 'sound', heard: 'one-click' }, { kind: 'turn-by-hand', seen: 'free' }], true))
      .toBe('Proven: the main contacts of the relay do not carry, shown by 12.1 V from relay’s battery stud to relay’s starter stud with START held and one click at START.');
    expect(sayConsequence(proven)).toBe('The evidence pays for the relay.');
  });

  it('says the two most likely before there is a proof, and nothing of that kind before anything was seen', () => {
    expect(sayVerdict(answer({}), [], true)).toBe('Not proven yet. Most likely the main contacts of the relay do not carry (60 %), then starter open (30 %).');
    expect(sayVerdict(answer({}), [], false)).toBe('Nothing is proven yet: nothing was seen so far.');
  });

  it('sends nobody for a part where cleaning, charging or an engine is the matter', () => {
    expect(sayConsequence(answer({ proven: 'battery-connection' }))).toMatch(/^No part is to be bought/);
    expect(sayConsequence(answer({ proven: 'battery-weak' }))).toMatch(/^Charge the battery first/);
    expect(sayConsequence(answer({ proven: 'engine-locked' }))).toMatch(/holds the engine/);
    expect(sayVerdict(answer({ proven: 'none' }), [], true)).toMatch(/Nothing is to be replaced/);
    expect(sayConsequence(answer({ proven: 'none' }))).toBe('');
  });
});

describe('taps on the points of the drawing', () => {
  const none: Probes = { plus: undefined, minus: undefined, held: true };
  it('put red, then black, begin anew with the third, and take a probe off where it is', () => {
    const red = tapPoint(none, 'battery+');
    const both = tapPoint(red, 'chassis');
    expect(both).toEqual({ plus: 'battery+', minus: 'chassis', held: true });
    expect(tapPoint(both, 'starter-stud')).toEqual({ plus: 'starter-stud', minus: undefined, held: true });
    expect(tapPoint(both, 'chassis')).toEqual(red);
    expect(tapPoint(both, 'battery+')).toEqual({ plus: undefined, minus: 'chassis', held: true });
  });
});

describe('where the interlocks are drawn', () => {
  it('is as the record says, else as its wires do, else ahead of the start switch', () => {
    expect(findInterlocks({ system: { nominalV: 12, interlocks: 'both' } })).toBe('both');
    expect(findInterlocks({ system: { nominalV: 12 }, wires: [{ tag: 'W1', wasOn: 'A', leadsTo: 'interlocked-return' }] })).toBe('in-return');
    expect(findInterlocks({ system: { nominalV: 12 } })).toBe('in-feed');
  });
});
