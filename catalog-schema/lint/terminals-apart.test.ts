import { expect, it } from 'vitest';
import { terminalsApart } from './terminals-apart.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('terminals-apart finds nothing in sound data', () => {
  expect(terminalsApart.check(soundData)).toEqual([]);
});

it('terminals-apart finds a planted fault: terminals B and M stand 7.0 mm apart', () => {
  expect(terminalsApart.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 1 ? { ...each, at: { xMm: -13, yMm: 0 } } : each)) }))).toEqual([{ where: 'bad', words: 'terminals B and M stand 7.0 mm apart' }]);
});
