import { expect, it } from 'vitest';
import { sealingSane } from './sealing-sane.ts';
import { plantPart, soundData } from './sound-example.ts';

it('sealing-sane finds nothing in sound data', () => {
  expect(sealingSane.check(soundData)).toEqual([]);
});

it('sealing-sane finds a planted fault: IPXX says nothing', () => {
  expect(sealingSane.check(plantPart({ sealing: 'IPXX' }))).toEqual([{ where: 'bad', words: 'IPXX says nothing' }]);
});

it('sealing-sane finds a planted fault: IP27: withstands immersion, and lets dust in', () => {
  expect(sealingSane.check(plantPart({ sealing: 'IP27' }))).toEqual([{ where: 'bad', words: 'IP27: withstands immersion, and lets dust in' }]);
});
