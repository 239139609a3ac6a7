import { describe, expect, it } from 'vitest';
import type { ProveAnswer } from '../answer.ts';
import { FAULTS, type Observation } from '../prove-case.ts';
import { evidenceOf, sayShare } from './evidence.ts';
import { readJobDocument } from './job-document.ts';
import type { LoggedEdit } from './job-edit.ts';
import { foldJobLog } from './job-log.ts';
import { keyOfObservation, proveCaseOf } from './job-proof.ts';

const record = { system: { nominalV: 12 } };
const volts: Observation = { kind: 'volts', startSwitch: true, plus: 'relay-battery-stud', minus: 'relay-starter-stud', volts: 11.8 };
const click: Observation = { kind: 'sound', heard: 'one-click' };
const answer = (over: Partial<ProveAnswer>): ProveAnswer => ({
  faults: [{ fault: 'relay-contacts', probability: 0.6 }, ...FAULTS.filter((fault) => fault !== 'relay-contacts').map((fault) => ({ fault, probability: 0.4 / 14 }))],
  proven: null, cleared: [], orderable: null, conflicts: [], nextTest: [{ test: 'Volts across the battery posts, START held', why: '', worth: 1, risk: 'low', ask: { kind: 'amps', startSwitch: true }, how: [], cautions: [], practice: null, outcomes: [] }],
  carriedBy: [], worthUnit: 'bit', cautions: [], assumptions: [], ...over,
});

describe('the proof as a job holds it', () => {
  it('names an entry by what was done, so that a second reading of the same points takes the place of the first, whichever probe was where', () => {
    expect(keyOfObservation(volts)).toBe('volts relay-battery-stud relay-starter-stud on');
    expect(keyOfObservation({ ...volts, plus: volts.minus, minus: volts.plus, volts: -11.8 } as Observation)).toBe(keyOfObservation(volts));
    expect(keyOfObservation({ ...volts, startSwitch: false } as Observation)).not.toBe(keyOfObservation(volts));
    expect(keyOfObservation(click)).toBe('sound on');
    expect(keyOfObservation({ kind: 'crank', startSwitch: false, seen: 'normal' })).toBe('crank off');
  });

  it('becomes a case in the order in which things were seen, with the volts of the record and the battery of either step', () => {
    const seen = { [keyOfObservation(click)]: click, [keyOfObservation(volts)]: volts };
    expect(proveCaseOf({ document: { prove: { seen, instruments: ['meter'], system: { ambientC: 5 } } }, record: { ...record, demand: { from: { batteryCcaA: 230 } } } }))
      .toEqual({ crankCase: { system: { nominalV: 12, batteryCcaA: 230, ambientC: 5 }, instruments: ['meter'], seen: [click, volts] }, keys: ['sound on', 'volts relay-battery-stud relay-starter-stud on'] });
    expect(proveCaseOf({ document: {}, record })).toEqual({ crankCase: { system: { nominalV: 12 }, seen: [] }, keys: [] });
  });

  it('is refused with a path where an entry is none', () => {
    const read = (entry: unknown) => readJobDocument({ title: 'x', record, prove: { seen: { k: entry } } } as never);
    expect(read(volts).ok).toBe(true);
    const same = read({ ...volts, minus: volts.kind === 'volts' ? volts.plus : '' });
    expect(!same.ok && same.faults.map(({ path }) => path)).toEqual(['prove.seen.k.minus']);
    expect(read({ kind: 'sound', heard: 'a bang' }).ok).toBe(false);
  });
});

describe('two devices on one proof', () => {
  const at = '2026-11-25T10:00:00Z';
  const id = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
  const begun: LoggedEdit[] = [{ id: id(1), field: ['title'], value: 'Pump', base: 0, at }, { id: id(2), field: ['record'], value: record, base: 1, at }];
  const tell = (n: number, device: number, seen: Observation): LoggedEdit => ({ id: id(n), field: ['prove', 'seen', keyOfObservation(seen)], value: seen as never, base: 2, device: id(device), at });

  it('lose nothing that either tells, and ask where they read the same points and saw different figures', () => {
    const apart = foldJobLog([...begun, tell(3, 901, click), tell(4, 902, volts)]);
    expect(apart.conflicts).toEqual([]);
    expect(Object.keys((apart.tree['prove'] as { seen: object }).seen)).toEqual(['sound on', 'volts relay-battery-stud relay-starter-stud on']);
    const same = foldJobLog([...begun, tell(3, 901, volts), tell(4, 902, { ...volts })]);
    expect(same.conflicts).toEqual([]);
    const other = foldJobLog([...begun, tell(3, 901, volts), tell(4, 902, { ...volts, volts: 0.1 } as Observation)]);
    expect(other.conflicts.map(({ standing, held }) => [standing.value, held.value])).toEqual([[volts, { ...volts, volts: 0.1 }]]);
  });
});

describe('whether the evidence pays for a part', () => {
  const seen = { prove: { seen: { a: click, b: volts } } };

  it('is not proven with the first test to do where nothing was seen', () => {
    expect(evidenceOf({}, undefined, 'starter-motor')).toEqual({
      proven: null, orderable: false, words: 'Not proven: nothing was measured on the machine that shows what failed.', settles: 'Volts across the starter, stud to case, START held',
    });
  });

  it('pays for the part whose fault is proven and for no other', () => {
    const proof = answer({ proven: 'relay-contacts', orderable: 'start-relay', nextTest: [] });
    expect(evidenceOf(seen, proof, 'contactor')).toEqual({ proven: 'relay-contacts', orderable: true, words: 'Proven: the main contacts of the relay do not carry.', settles: null });
    const starter = evidenceOf(seen, proof, 'starter-motor');
    expect(starter).toMatchObject({ proven: null, orderable: false });
    expect(starter.words).toContain('pays for the relay');
  });

  it('pays for nothing where a mere cleaning mends it, where it cranks, and where readings quarrel', () => {
    expect(evidenceOf(seen, answer({ proven: 'battery-connection' })).orderable).toBe(false);
    expect(evidenceOf(seen, answer({ proven: 'none' })).words).toContain('cranked as it should');
    expect(evidenceOf(seen, answer({ conflicts: [{ paths: ['seen[0]'], why: '' }] })).words).toContain('contradict');
  });

  it('says what is most likely, and what would settle it, before there is a proof', () => {
    expect(evidenceOf(seen, answer({}), 'start-relay')).toMatchObject({
      words: 'Not proven: 2 things were seen, not enough; most likely the main contacts of the relay do not carry (60 %).', settles: 'Volts across the battery posts, START held',
    });
  });

  it('rounds no doubt away', () => {
    expect([0, 0.002, 0.42, 0.997, 1].map(sayShare)).toEqual(['0 %', 'under 1 %', '42 %', 'over 99 %', '100 %']);
  });
});
