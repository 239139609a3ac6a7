import 'fake-indexeddb/auto';
import { expect, it } from 'vitest';
import { measureSync } from './measure-sync.ts';

// A small fixed sample of what `sync.ts` runs 500 times.
it('twenty runs of devices over a failing network all converge, with nothing lost and nothing decided silently', async () => {
  const figures = await measureSync(20, 7);
  expect(figures.wrong).toEqual([]);
  // The runs have met what they are about.
  expect(figures.held).toBeGreaterThan(20);
  expect(figures.settled).toBeGreaterThan(10);
  expect(Math.min(...Object.values(figures.traffic))).toBeGreaterThan(5);
  expect(figures.restarts).toBeGreaterThan(10);
}, 240_000);
