import { describe, expect, it } from 'vitest';
import { keyOfObservation, type JobState, type Observation, type ProveAnswer, type ProveCase } from '../../../catalog-schema/index.ts';
import { prove } from '../../engine/index.ts';
import { done, refuse, type Outcome } from '../outcome.ts';
import { createEvidenceService } from './evidence-service.ts';

const burnt: readonly Observation[] = [
  { kind: 'sound', startSwitch: true, heard: 'one-click' },
  { kind: 'volts', startSwitch: true, plus: 'battery+', minus: 'battery-', volts: 12.5 },
  { kind: 'volts', startSwitch: true, plus: 'coil-feed', minus: 'coil-return', volts: 12 },
  { kind: 'volts', startSwitch: true, plus: 'relay-battery-stud', minus: 'relay-starter-stud', volts: 12.4 },
];

function openFor(seen: readonly Observation[], answers: (crankCase: ProveCase) => Outcome<ProveAnswer>) {
  const document = { title: 'x', record: {}, prove: { seen: Object.fromEntries(seen.map((entry) => [keyOfObservation(entry), entry])) } };
  const job = { document, record: { system: { nominalV: 12 } } } as unknown as JobState;
  let asked = 0;
  const evidence = createEvidenceService(
    { read: async (id) => (id === 'here' ? done(job) : refuse({ kind: 'not-found', what: 'job' })) },
    { current: () => ({ byId: new Map([['R', { partClass: 'start-relay' }], ['M', { partClass: 'starter-motor' }]]) }) as never },
    { prove: async (crankCase) => { asked += 1; return answers(crankCase); } },
    async () => undefined,
  );
  return { evidence, asked: () => asked };
}

describe('the evidence of a job', () => {
  it('pays for the relay whose contacts the readings prove, not for a starter, and is weighed once for both', async () => {
    const { evidence, asked } = openFor(burnt, (crankCase) => done(prove(crankCase)));
    expect(await evidence.ofJob('here', 'R')).toMatchObject({ proven: 'relay-contacts', orderable: true });
    expect(await evidence.ofJob('here', 'M')).toMatchObject({ proven: null, orderable: false });
    expect(asked()).toBe(1);
  });

  it('is none, without weighing anything, where nothing was seen or there is no such job', async () => {
    const { evidence, asked } = openFor([], () => { throw new Error('not to be asked'); });
    expect((await evidence.ofJob('here', 'R')).words).toContain('nothing was measured');
    expect((await evidence.ofJob('elsewhere', 'R')).words).toContain('nothing was measured');
    expect(asked()).toBe(0);
  });

  it('is said to be unknown while the engine is busy, and asked for again afterwards', async () => {
    let busy = true;
    const { evidence } = openFor(burnt, (crankCase) => (busy ? refuse({ kind: 'busy', why: 'too much waits' }) : done(prove(crankCase))));
    expect((await evidence.ofJob('here', 'R')).words).toContain('not been weighed yet');
    busy = false;
    expect((await evidence.ofJob('here', 'R')).orderable).toBe(true);
  });
});
