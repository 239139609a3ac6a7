import { describe, expect, it } from 'vitest';
import { sayCheckWhy, sayWhy } from './say-why.ts';

describe('the reason for a measurement', () => {
  it('names circuit forms as a technician would', () => {
    expect(sayWhy('it tells isolated from isolated-diode.')).toBe('it tells a plain coil between two terminals from a coil with a diode across it.');
    expect(sayWhy('it tells which terminals of the changeover form are which.')).toBe('it tells which terminals of a changeover relay are which.');
  });

  it('leaves every other reason as it is', () => {
    for (const why of ['it tells M8 x 1.25 from 5/16-18.', 'the case is isolated']) expect(sayWhy(why)).toBe(why);
  });
});

describe('why a wiring is refused', () => {
  it('is said without the contract\'s codes', () => {
    expect(sayCheckWhy('shorts-a-wire: W3 would carry 75 A.; defeats-interlock: the starter would still be fed')).toBe('W3 would carry 75 A; the starter would still be fed');
    expect(sayCheckWhy('the wires as they were would not do: never-pulls-in: no volts')).toBe('the wires as they were would not do: no volts');
  });

  it('is left as it is where no code stands in it', () => {
    expect(sayCheckWhy('it bears 30 s; 10 s is needed')).toBe('it bears 30 s; 10 s is needed');
  });
});
