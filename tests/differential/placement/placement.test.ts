import { describe, expect, it } from 'vitest';
import { machineMounting, mounting } from '../../../catalog-schema/index.ts';
import { comparePlacement } from './compare-placement.ts';
import { generatePattern } from './pattern-generator.ts';
import { searchGrid } from './plain-grid.ts';

/** The whole of it, larger: `npm run sweep:placement`. */
const PATTERNS = 60;
const GROUP = 30;

describe('the engine\'s placement against a fine grid of poses', () => {
  const verdicts = new Map<string, number>();

  for (let first = 1; first <= PATTERNS; first += GROUP) {
    it(`agrees where the margins are clear, seeds ${first} to ${first + GROUP - 1}`, { timeout: 60_000 }, () => {
      for (let seed = first; seed < first + GROUP; seed++) {
        const pattern = generatePattern(seed);
        expect(machineMounting.safeParse(pattern.machine).error, `machine of seed ${seed}`).toBeUndefined();
        expect(mounting.safeParse(pattern.part).error, `part of seed ${seed}`).toBeUndefined();
        const { differences, verdict } = comparePlacement(pattern);
        verdicts.set(verdict, (verdicts.get(verdict) ?? 0) + 1);
        expect(differences, `seed ${seed}`).toEqual([]);
      }
    });
  }

  it('was asked patterns of every kind, most of them clear', () => {
    for (const kind of ['pass', 'turned over', 'new holes', 'fail']) expect(verdicts.get(kind) ?? 0, kind).toBeGreaterThan(2);
    expect(verdicts.get('not clear') ?? 0).toBeLessThan(PATTERNS / 5);
  });
});

describe('the grid itself, by hand', () => {
  const hole = (xMm: number, yMm: number, diameterMm: number) => ({ xMm, yMm, diameterMm });

  it('finds two bolts 0.4 mm off their holes\' spacing with 0.3 mm of room each', () => {
    const answer = searchGrid({ holes: [hole(0, 0, 7), hole(40, 0, 7)], boltMm: 6 }, { holes: [hole(0, 0, 6.6), hole(40.4, 0, 6.6)] });
    expect(answer.asItLies.margin).toBeGreaterThan(0.05);
    expect(answer.asItLies.margin).toBeLessThan(0.12);
  });

  it('finds none where the spacing is off by more than both rooms', () => {
    expect(searchGrid({ holes: [hole(0, 0, 7), hole(40, 0, 7)], boltMm: 6 }, { holes: [hole(0, 0, 6.6), hole(42, 0, 6.6)] }).asItLies.margin).toBeLessThan(-0.11);
  });

  it('turns a crossways pair by 90 degrees and needs a flip for a handed triangle', () => {
    const pair = searchGrid({ holes: [hole(0, 0, 7), hole(40, 0, 7)], boltMm: 6 }, { holes: [hole(0, 0, 7), hole(0, 40, 7)] });
    expect(pair.asItLies.leastTurnDeg).toBeGreaterThan(85);
    const handed = searchGrid({ holes: [hole(0, 0, 7), hole(50, 0, 7), hole(0, 20, 7)], boltMm: 6 }, { holes: [hole(0, 0, 7), hole(-50, 0, 7), hole(0, 20, 7)] });
    expect(handed.asItLies.margin).toBeLessThan(-0.11);
    expect(handed.turnedOver.leastTurnDeg).toBe(0);
  });
});
