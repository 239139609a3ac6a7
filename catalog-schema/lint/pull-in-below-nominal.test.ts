import { expect, it } from 'vitest';
import { pullInBelowNominal } from './pull-in-below-nominal.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('pull-in-below-nominal finds nothing in sound data', () => {
  expect(pullInBelowNominal.check(soundData)).toEqual([]);
});

it('pull-in-below-nominal finds a planted fault: coil c pulls in at 12 V, nominal 12 V', () => {
  expect(pullInBelowNominal.check(plantPart({ circuit: soundPart.circuit.map((each, i) => (i === 0 ? ({ ...each, pullInV: 12 } as typeof each) : each)) }))).toEqual([{ where: 'bad', words: 'coil c pulls in at 12 V, nominal 12 V' }]);
});
