import { expect, it } from 'vitest';
import { threadKnown } from './thread-known.ts';
import { plantPart, soundData, soundPart } from './sound-example.ts';

it('thread-known finds nothing in sound data', () => {
  expect(threadKnown.check(soundData)).toEqual([]);
});

it('thread-known finds a planted fault: terminal B: thread M9x1 is not in the table', () => {
  expect(threadKnown.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 0 ? { ...each, thread: 'M9x1' } : each)) }))).toEqual([{ where: 'bad', words: 'terminal B: thread M9x1 is not in the table' }]);
});

it('thread-known finds a planted fault: terminal B: thread 5/16 leaves the pitch open', () => {
  expect(threadKnown.check(plantPart({ terminals: soundPart.terminals.map((each, i) => (i === 0 ? { ...each, thread: '5/16' } : each)) }))).toEqual([{ where: 'bad', words: 'terminal B: thread 5/16 leaves the pitch open' }]);
});
