import { expect, it } from 'vitest';
import type { ContactElement } from '../part.ts';
import { studsAlike } from './studs-alike.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('studs-alike finds nothing in sound data', () => {
  expect(studsAlike.check(soundData)).toEqual([]);
});

it('studs-alike finds a planted fault: contact k has studs M8x1.25 and 5/16-18', () => {
  expect(studsAlike.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 1 ? { ...each, thread: '5/16-18' } : each)) }))).toEqual([{ where: 'bad', words: 'contact k has studs M8x1.25 and 5/16-18' }]);
});

it('studs-alike leaves a small contact between unlike studs alone: a cranking feed has a small stud', () => {
  const feed: ContactElement = { kind: 'contact', id: 'feed', between: ['B', 'F'], form: 'NO', coils: ['c'], continuousA: 10 };
  const data = plantPart({ terminals: [...soundPart.terminals, { id: 'F', form: 'stud', thread: '#10-32' }], circuit: [...soundPart.circuit, feed] });
  expect(studsAlike.check(data)).toEqual([]);
});
