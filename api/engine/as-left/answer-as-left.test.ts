import { describe, expect, it } from 'vitest';
import { asLeftAnswer } from '../../../catalog-schema/index.ts';
import { answerAsLeft } from './answer-as-left.ts';
import { fingerprintWork } from './fingerprint.ts';
import { makeSteps } from './make-steps.ts';
import { AT, facts, makeFacts, part, plan, record, tickOf } from './sample-checklist.ts';

describe('the checklist as every door says it', () => {
  it('reads by its schema, with a part and without', () => {
    const step = makeSteps(facts).find(({ id }) => id === 'read-contact-drop')!;
    expect(asLeftAnswer.safeParse(answerAsLeft(makeFacts({ [step.id]: { ...tickOf(step), reading: 0.4 } }))).error).toBeUndefined();
    expect(asLeftAnswer.safeParse(answerAsLeft({ ...makeFacts(undefined), document: { title: 't', record: {} }, part: undefined, basis: undefined })).error).toBeUndefined();
  });

  it('tables every wire with its old and its new place, jumpers and what stays off', () => {
    const { wiring } = answerAsLeft(makeFacts(undefined));
    expect(wiring.map(({ wire, was, now, end, work }) => [wire, was, now, end, work])).toEqual([
      ['1 (RD)', 'B', '1, same place', 'new end', true], ['2 (RD)', 'M', '2, same place', 'new end', true], ['3 (YE/GN)', 'S', 'a, same place', 'receptacle 6.3 mm', false],
      ['4 (BN)', 'B', '1, same place', 'new end', true], ['5 (BK)', 'I', 'stays off: insulate and tie back', 'end not recorded', true],
      ['jumper to make', '', 'b – chassis', '', true],
    ]);
  });

  it('gives each step its tick and why that does not close it', () => {
    const steps = makeSteps(facts);
    const seat = steps.find(({ id }) => id === 'interlock-Seat')!;
    const drop = steps.find(({ id }) => id === 'read-contact-drop')!;
    const answer = answerAsLeft(makeFacts({ [seat.id]: { ...tickOf(seat), of: 'other' }, [drop.id]: { ...tickOf(drop), reading: 0.4 } }));
    expect(answer.steps.find(({ id }) => id === seat.id)).toMatchObject({ mark: 'open', because: 'ticked for another part, wiring or test: do it again', tick: { at: AT, by: 'J', outcome: 'good' } });
    expect(answer.steps.find(({ id }) => id === drop.id)).toMatchObject({ mark: 'bad', because: 'the meter showed 0.4 V, outside the limit', limit: { low: null, high: 0.2, unit: 'V' } });
  });

  it('names torque, stack order, cautions and yardsticks with their sources', () => {
    const { notes, cautions, assumptions } = answerAsLeft(makeFacts(undefined));
    // IEC 60947-1 Table 4, column III, above 6.0 to 8.0 mm: 6 N·m (from memory, as the table's row says)
    expect(notes.join(' ')).toMatch(/5\/16-24: 6 N·m.*test torque of IEC 60947-1 Table 4/);
    expect(cautions.join(' ')).toMatch(/Seat, Lid.*local codes and licensed practice/);
    expect(assumptions.join(' ')).toContain('common practice');
  });

  it('says how the sign-off stands, and what it has to carry to stand', () => {
    const { document } = makeFacts(undefined);
    const signed = { ...document, signedOff: { at: AT, by: 'J', of: fingerprintWork(document) } };
    expect(answerAsLeft({ ...makeFacts(undefined), document: signed }).signOff).toEqual({ state: 'stands', by: 'J', at: AT, of: fingerprintWork(document) });
    expect(answerAsLeft({ ...makeFacts(undefined), document: { ...signed, chosen: { partId: part.id, plan: { ...plan, leftOff: [] } } } }).signOff.state).toBe('lapsed');
  });

  it('leaves its facts alone', () => {
    const given = makeFacts(undefined);
    const before = JSON.stringify([given, record]);
    answerAsLeft(given);
    expect(JSON.stringify([given, record])).toBe(before);
  });
});
