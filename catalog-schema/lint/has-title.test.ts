import { expect, it } from 'vitest';
import { hasTitle } from './has-title.ts';
import { plantPart, soundData } from './sound-example.ts';

it('has-title finds nothing in sound data', () => {
  expect(hasTitle.check(soundData)).toEqual([]);
});

it('has-title finds a planted fault: no title', () => {
  expect(hasTitle.check(plantPart({ title: '  ' }))).toEqual([{ where: 'bad', words: 'no title' }]);
});
