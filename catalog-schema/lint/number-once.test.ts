import { expect, it } from 'vitest';
import { numberOnce } from './number-once.ts';
import { plantPart, soundData } from './sound-example.ts';

it('number-once finds nothing in sound data', () => {
  expect(numberOnce.check(soundData)).toEqual([]);
});

it('number-once finds a planted fault: number q1 of Quarrel is also that of p', () => {
  expect(numberOnce.check(plantPart({ numbers: [{ issuer: 'Quarrel', number: 'q1' }] }))).toEqual([{ where: 'bad', words: 'number q1 of Quarrel is also that of p' }]);
});
