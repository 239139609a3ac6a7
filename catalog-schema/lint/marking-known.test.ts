import { expect, it } from 'vitest';
import { markingKnown } from './marking-known.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('marking-known finds nothing in sound data', () => {
  expect(markingKnown.check(soundData)).toEqual([]);
});

it('marking-known finds a planted fault: terminal S: marking QX7 is not listed', () => {
  expect(markingKnown.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 2 ? { ...each, marking: 'QX7' } : each)) }))).toEqual([{ where: 'bad', words: 'terminal S: marking QX7 is not listed' }]);
});
