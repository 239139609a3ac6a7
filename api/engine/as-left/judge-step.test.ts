import { describe, expect, it } from 'vitest';
import { judgeStep } from './judge-step.ts';
import { makeSteps } from './make-steps.ts';
import { AT as at, facts, tickOf } from './sample-checklist.ts';
import type { ReadingKey } from './step.ts';

const steps = makeSteps(facts);
const reading = (key: ReadingKey) => steps.find((step) => step.kind === 'reading' && step.reading === key)!;
const markAt = (key: ReadingKey, value: number): string => judgeStep(reading(key), { [reading(key).id]: { ...tickOf(reading(key)), reading: value } }).mark;

describe('a reading', () => {
  it.each<[ReadingKey, number, string, string]>([
    // across a new relay's contact: common practice, no source read for the exact figure
    ['contact-drop', 0.2, 'V', 'at most'],
    // battery plus to the starter with a relay between: common practice
    ['positive-drop', 0.4, 'V', 'at most'],
    // starter case to battery minus: common practice
    ['ground-drop', 0.2, 'V', 'at most'],
    // key off: common practice, service instructions for road vehicles allow 25 to 50 mA
    ['standing-current', 0.05, 'A', 'at most'],
    // the part's own guaranteed pull-in
    ['coil-volts', 8, 'V', 'at least'],
  ])('of %s is good below, at and bad above its limit of %d %s, or the other way about (%s)', (key, limit, _unit, way) => {
    const beyond = way === 'at most' ? 1.001 : 0.999;
    expect([markAt(key, limit / beyond), markAt(key, limit), markAt(key, limit * beyond)]).toEqual(['done', 'done', 'bad']);
  });

  it('of ohms holds from both sides: a fifth off the catalogue', () => {
    // 20 %: common practice, no source
    expect([3.199, 3.2, 4, 4.8, 4.801].map((ohm) => markAt('coil-ohms', ohm))).toEqual(['bad', 'done', 'done', 'done', 'bad']);
  });

  it('counts by its size, whichever probe was plus; ohms below nothing are no ohms', () => {
    expect(markAt('contact-drop', -0.9)).toBe('bad');
    expect(markAt('contact-drop', -0.1)).toBe('done');
    expect(markAt('coil-volts', -11.8)).toBe('done');
    expect(markAt('coil-ohms', -4)).toBe('bad');
  });

  it('outside its limit is bad whatever was ticked beside it, and without a figure it is open', () => {
    const step = reading('contact-drop');
    expect(judgeStep(step, { [step.id]: { ...tickOf(step), reading: 0.9, outcome: 'good' } }).mark).toBe('bad');
    expect(judgeStep(step, { [step.id]: { at, by: 'J', of: step.of, outcome: 'good' } })).toEqual({ mark: 'open', because: 'no-reading' });
  });
});

describe('a tick', () => {
  const seat = steps.find((step) => step.id === 'interlock-Seat')!;
  const mount = steps.find((step) => step.kind === 'mount')!;

  it('closes its step', () => {
    expect(judgeStep(seat, { [seat.id]: tickOf(seat) })).toEqual({ mark: 'done' });
    expect(judgeStep(mount, { mount: { at, by: 'J', of: mount.of } })).toEqual({ mark: 'done' });
    expect(judgeStep(mount, undefined)).toEqual({ mark: 'open' });
  });

  it('does not close a test without saying whether it did what it must', () => {
    expect(judgeStep(seat, { [seat.id]: { at, by: 'J', of: seat.of } })).toEqual({ mark: 'open', because: 'no-outcome' });
    expect(judgeStep(seat, { [seat.id]: { ...tickOf(seat), outcome: 'bad' } })).toEqual({ mark: 'bad' });
  });

  it('does not count without a name, of another state of the step, or for another step', () => {
    expect(judgeStep(mount, { mount: { at, of: mount.of } })).toEqual({ mark: 'open', because: 'nobody' });
    expect(judgeStep(mount, { mount: { at, by: '  ', of: mount.of } })).toEqual({ mark: 'open', because: 'nobody' });
    expect(judgeStep(mount, { mount: { at, by: 'J' } })).toEqual({ mark: 'open', because: 'changed' });
    expect(judgeStep(mount, { mount: { at, by: 'J', of: seat.of } })).toEqual({ mark: 'open', because: 'changed' });
    expect(judgeStep(mount, { elsewhere: tickOf(mount) })).toEqual({ mark: 'open' });
  });

  it('is looked for among the ticks alone, not among what every object has', () => {
    expect(judgeStep({ ...mount, id: 'constructor' }, {})).toEqual({ mark: 'open' });
  });
});
