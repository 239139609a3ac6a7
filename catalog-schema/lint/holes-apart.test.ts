import { expect, it } from 'vitest';
import { holesApart } from './holes-apart.ts';
import { plantPart, soundData } from './sound-example.ts';

it('holes-apart finds nothing in sound data', () => {
  expect(holesApart.check(soundData)).toEqual([]);
});

it('holes-apart finds a planted fault: holes 0 and 1 run into one another', () => {
  expect(holesApart.check(plantPart({ mounting: { holes: [{ xMm: 0, yMm: 0, diameterMm: 6 }, { xMm: 10, yMm: 0, diameterMm: 6, slotMm: 8 }] } }))).toEqual([{ where: 'bad', words: 'holes 0 and 1 run into one another' }]);
});

it('holes-apart finds a planted fault: holes span 120.0 mm, the body allows 90.0 mm', () => {
  expect(holesApart.check(plantPart({ mounting: { holes: [{ xMm: -60, yMm: 0, diameterMm: 6 }, { xMm: 60, yMm: 0, diameterMm: 6 }] } }))).toEqual([{ where: 'bad', words: 'holes span 120.0 mm, the body allows 90.0 mm' }]);
});
