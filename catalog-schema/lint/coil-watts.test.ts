import { expect, it } from 'vitest';
import { coilWatts } from './coil-watts.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('coil-watts finds nothing in sound data', () => {
  expect(coilWatts.check(soundData)).toEqual([]);
});

it('coil-watts finds a planted fault: coil c takes 0.360 W at 12 V', () => {
  expect(coilWatts.check(plantPart({ circuit: soundPart.circuit.map((each, i) => (i === 0 ? ({ ...each, ohmAt20C: 400 } as typeof each) : each)) }))).toEqual([{ where: 'bad', words: 'coil c takes 0.360 W at 12 V' }]);
});

it('coil-watts finds a planted fault: coil c takes 360 W at 12 V', () => {
  expect(coilWatts.check(plantPart({ circuit: soundPart.circuit.map((each, i) => (i === 0 ? ({ ...each, ohmAt20C: 0.4 } as typeof each) : each)) }))).toEqual([{ where: 'bad', words: 'coil c takes 360 W at 12 V' }]);
});
