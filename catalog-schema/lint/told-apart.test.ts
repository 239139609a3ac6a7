import { expect, it } from 'vitest';
import { toldApart } from './told-apart.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('told-apart finds nothing in sound data', () => {
  expect(toldApart.check(soundData)).toEqual([]);
});

it('told-apart finds a planted fault: the same as p in everything but its id', () => {
  expect(toldApart.check(plantPart({ title: soundPart.title, numbers: [...soundPart.numbers!] }))).toEqual([{ where: 'bad', words: 'the same as p in everything but its id' }]);
});
