import { describe, expect, it } from 'vitest';
import { sayWhy } from './say-why.ts';

describe('the reason for a measurement', () => {
  it('names circuit forms as a technician would', () => {
    expect(sayWhy('it tells isolated from isolated-diode.')).toBe('it tells a plain coil between two terminals from a coil with a diode across it.');
    expect(sayWhy('it tells which terminals of the changeover form are which.')).toBe('it tells which terminals of a changeover relay are which.');
  });

  it('leaves every other reason as it is', () => {
    for (const why of ['it tells M8 x 1.25 from 5/16-18.', 'the case is isolated']) expect(sayWhy(why)).toBe(why);
  });
});
