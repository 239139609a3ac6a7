import { describe, expect, it } from 'vitest';
import type { Part } from '../../../catalog-schema/index.ts';
import { needsNewEnd } from './new-end.ts';

const part: Part = {
  id: 'p', partClass: 'start-relay', title: 'p', circuit: [],
  terminals: [{ id: 'B', form: 'stud', thread: '5/16-24' }, { id: 'M', form: 'stud', thread: 'M8x1.25' }, { id: 'U', form: 'stud' }],
};
const ask = (holeMm: number, to: string, newEnd = false): boolean =>
  needsNewEnd({ tag: '1', wasOn: 'x', end: { form: 'ring', holeMm } }, { tag: '1', from: 'x', to, moved: false, newEnd }, part);

describe('a ring lug at its new stud', () => {
  it('needs a new one below and above the limits, and none at them', () => {
    // M8 is 8 mm: holes from 8.1 to 9.5 mm go on (common practice, no source)
    expect([8.09, 8.1, 9.5, 9.51].map((hole) => ask(hole, 'M'))).toEqual([true, false, false, true]);
  });

  it('does not go over a 5/16 stud when it came off an M6', () => {
    expect(ask(6.4, 'B')).toBe(true);
    expect(ask(8.4, 'B')).toBe(false);
  });

  it('is left to the plan where the thread is not known, or where the plan asks for a new end', () => {
    expect(ask(6.4, 'U')).toBe(false);
    expect(ask(8.4, 'M', true)).toBe(true);
  });

  it('is no question for a receptacle', () => {
    expect(needsNewEnd({ tag: '1', wasOn: 'x', end: { form: 'receptacle', tabWidthMm: 6.3 } }, { tag: '1', from: 'x', to: 'B', moved: false, newEnd: false }, part)).toBe(false);
  });
});
