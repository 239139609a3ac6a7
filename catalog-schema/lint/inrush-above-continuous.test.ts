import { expect, it } from 'vitest';
import { inrushAboveContinuous } from './inrush-above-continuous.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('inrush-above-continuous finds nothing in sound data', () => {
  expect(inrushAboveContinuous.check(soundData)).toEqual([]);
});

it('inrush-above-continuous finds a planted fault: contact k: inrush 90 A below continuous 100 A', () => {
  expect(inrushAboveContinuous.check(plantPart({ circuit: soundPart.circuit.map((each, i) => (i === 1 ? ({ ...each, inrushA: 90 } as typeof each) : each)) }))).toEqual([{ where: 'bad', words: 'contact k: inrush 90 A below continuous 100 A' }]);
});
