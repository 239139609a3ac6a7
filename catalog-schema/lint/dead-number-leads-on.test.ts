import { expect, it } from 'vitest';
import { deadNumberLeadsOn } from './dead-number-leads-on.ts';
import { plantPart, soundData } from './sound-example.ts';

it('dead-number-leads-on finds nothing in sound data', () => {
  expect(deadNumberLeadsOn.check(soundData)).toEqual([]);
});

it('dead-number-leads-on finds a planted fault: superseded, and no current part follows', () => {
  expect(deadNumberLeadsOn.check(plantPart({ supersededBy: ['gone'] }))).toEqual([{ where: 'bad', words: 'superseded, and no current part follows' }]);
});

it('dead-number-leads-on finds a planted fault: superseded, and no current part follows', () => {
  expect(deadNumberLeadsOn.check(plantPart({ supersededBy: [] }))).toEqual([{ where: 'bad', words: 'superseded, and no current part follows' }]);
});
