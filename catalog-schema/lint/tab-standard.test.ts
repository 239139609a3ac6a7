import { expect, it } from 'vitest';
import { tabStandard } from './tab-standard.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('tab-standard finds nothing in sound data', () => {
  expect(tabStandard.check(soundData)).toEqual([]);
});

it('tab-standard finds a planted fault: terminal S: tab 6 x 0.8 mm is no standard size', () => {
  expect(tabStandard.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 2 ? { ...each, tabWidthMm: 6 } : each)) }))).toEqual([{ where: 'bad', words: 'terminal S: tab 6 x 0.8 mm is no standard size' }]);
});

it('tab-standard finds a planted fault: terminal S: tab 6.3 x 1.2 mm is no standard size', () => {
  expect(tabStandard.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 2 ? { ...each, tabThicknessMm: 1.2 } : each)) }))).toEqual([{ where: 'bad', words: 'terminal S: tab 6.3 x 1.2 mm is no standard size' }]);
});
