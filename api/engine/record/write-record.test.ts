import { describe, expect, it } from 'vitest';
import { keyOfObservation, proveCaseOf, readInput, customerRecord, type JobDocument, type Observation, type ProveAnswer } from '../../../catalog-schema/index.ts';
import { listBench } from './list-bench.ts';
import { writeRecord, type RecordFacts } from './write-record.ts';

const record = { system: { nominalV: 12 } };
const seen: readonly Observation[] = [
  { kind: 'sound', heard: 'one-click' }, { kind: 'volts', startSwitch: true, plus: 'relay-battery-stud', minus: 'relay-starter-stud', volts: 12.1 },
];
const proveSeen = Object.fromEntries(seen.map((entry) => [keyOfObservation(entry), entry]));
const answer = (more: Partial<ProveAnswer>): ProveAnswer => ({
  faults: [{ fault: 'relay-contacts', probability: 0.99 }], proven: 'relay-contacts', cleared: [], orderable: 'start-relay', conflicts: [], nextTest: [], worthUnit: 'bit', cautions: [], assumptions: [],
  carriedBy: [{ path: 'seen[1]', why: '' }], ...more,
});
function facts(document: Partial<JobDocument>, proof?: ProveAnswer): RecordFacts {
  const whole: JobDocument = { title: 'Pump', record: {}, ...document };
  const { keys } = proveCaseOf({ document: whole, record });
  return { document: whole, record, part: undefined, basis: undefined, conflicts: 0, unit: 'mm', proof: proof && { answer: proof, keys } };
}

describe('the customer’s page', () => {
  it('is a page of its own shape', () => {
    expect(readInput(customerRecord, writeRecord(facts({})))).toMatchObject({ ok: true });
  });

  it('says what the readings prove, which of them shows it, and what was not needed', () => {
    const page = writeRecord(facts({ prove: { seen: proveSeen } }, answer({ cleared: ['battery-weak', 'starter-open', 'starter-dragging', 'starter-drive', 'relay-coil-open', 'none'] })));
    expect(page.found).toEqual({ proven: true, words: 'Proven by measurement: the main contacts of the relay do not carry.', settles: null });
    expect(page.measured.map(({ showed, carries }) => [showed, carries])).toEqual([['one click', false], ['12.1 V', true]]);
    // one fault of the relay is cleared, the relay is not
    expect(page.notNeeded).toEqual(['the battery', 'the starter']);
  });

  it('says not proven, and what would have settled it, of a part that was chosen all the same', () => {
    const page = writeRecord(facts({ chosen: { partId: 'p', plan: null, title: 'Relay' } }));
    expect(page.found.proven).toBe(false);
    expect(page.found.words).toContain('own judgement');
    expect(page.found.settles).toContain('heavy studs');
    expect(page.replaced).toMatchObject({ words: 'Chosen, not yet signed off as fitted: Relay (p).', evidence: { proven: null, orderable: false } });
  });

  it('keeps words of a proof made elsewhere apart from readings', () => {
    expect(writeRecord(facts({ proved: { words: 'sent by the dealer' } })).found).toEqual({ proven: false, words: 'Found in another way, not by readings in this record: sent by the dealer', settles: null });
  });

  it('does not call cranking a fault', () => {
    expect(writeRecord(facts({ prove: { seen: proveSeen } }, answer({ proven: 'none', orderable: null }))).found.words).toContain('No fault was found');
  });
});

describe('what was measured at the bench', () => {
  it('is nothing on a blank record', () => {
    expect(listBench({ system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud' }] }, 'mm')).toEqual([]);
  });

  it('names terminals, ohms with the state of the plunger, amps and volts, in the unit of the settings', () => {
    expect(listBench({
      system: { nominalV: 12, lowestRestingV: 12.1 },
      terminals: [{ id: 'A', form: 'stud', majorDiameterMm: 7.9375, pitchMm: { value: 1.058, plusMinus: 0.08 } }],
      ohms: [{ between: ['A', 'case'], ohm: 'open', pulledIn: true }], demand: { inrushA: 260 },
    }, 'inch')).toEqual([
      { what: 'Stud A', showed: 'outside diameter 0.3125 in (5/16), pitch 1.06 ± 0.08 mm' },
      { what: 'Between A and the case, held in', showed: 'open' },
      { what: 'Inrush through the contact', showed: '260 A' },
      { what: 'Lowest volts at rest', showed: '12.1 V' },
    ]);
  });
});
