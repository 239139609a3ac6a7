import { describe, expect, it } from 'vitest';
import { benchRecordSchema, pricesSchema, readCatalogue, type Criterion, type FitAnswer } from '../../catalog-schema/index.ts';
import { Draws } from '../sim-identify/random.ts';
import { drawMachine } from './draw-machine.ts';
import { drawWorld } from './draw-world.ts';
import { askFit } from './drive-fit.ts';
import { measureFits } from './measure-fits.ts';
import { askAsAsked } from './retake-record.ts';
import { LEVELS, takeRecord } from './take-record.ts';

// The whole run, with its bounds on hits and calibration, is `npm run sim:fit`; here a few machines hold what can hurt somebody.
const CASES = 150;
const SEED = 4100;

describe(`the matcher on ${CASES} simulated records, seed ${SEED}`, () => {
  const figures = measureFits(CASES, SEED, askFit, false);
  const told = figures.lines.join('\n');

  it('calls no part direct or adapt that breaks a safety criterion', () => {
    expect(figures.falseSafety, told).toBe(0);
  });

  it('takes none of the planted traps', () => {
    expect(figures.trapsAccepted, told).toBe(0);
  });

  it('is sure of most parts that truly work, where readings and catalogue say all', () => {
    expect(figures.sureOfWhole, told).toBeGreaterThan(0.75);
  });
});

describe('the simulator', () => {
  it('draws worlds and records that read', () => {
    for (const seed of [1, 2]) {
      const world = drawWorld(seed);
      expect(readCatalogue(world.catalogue).ok).toBe(true);
      expect(pricesSchema.safeParse(world.prices).error).toBeUndefined();
      const draws = new Draws(seed);
      for (let i = 0; i < 10; i++) {
        const machine = drawMachine(world, draws);
        for (const taking of Object.values(LEVELS)) expect(benchRecordSchema.safeParse(takeRecord(machine, taking, draws)).error).toBeUndefined();
      }
    }
  });

  it('takes once more, and finer, only what the answer asks of the bench', () => {
    const world = drawWorld(1);
    const draws = new Draws(1);
    const machine = drawMachine(world, draws);
    const record = takeRecord(machine, LEVELS.full, draws);
    const asking = (...settles: Criterion[]): FitAnswer => ({ ...askFit(record, world), measureNext: settles.map((each) => ({ what: each, why: '', worth: 1, settles: [each], from: each === 'sealing' ? 'maker' : 'bench' })) });
    const [first, second, none] = [asking('space', 'sealing', 'coil-duty'), asking('space', 'mounting'), asking()];
    const answers = [second, none];
    const asked = askAsAsked(machine, { record, answer: first }, draws, () => answers.shift()!);
    expect(asked.retaken).toEqual(['room', 'bolts']);
    expect(asked.answer).toBe(none);
    expect(asked.record.space!.plusMinusMm).toBeLessThan(record.space!.plusMinusMm!);
    expect(asked.record.mounting!.plusMinusMm).toBeLessThan(record.mounting!.plusMinusMm!);
    expect({ ...asked.record, space: 0, mounting: 0 }).toEqual({ ...record, space: 0, mounting: 0 });
    expect(benchRecordSchema.safeParse(asked.record).error).toBeUndefined();
  });

  it('would notice a matcher that says direct to everything', () => {
    const figures = measureFits(9, SEED, (record, world) => {
      const answer = askFit(record, world, true);
      return { ...answer, fits: answer.fits.map((fit) => ({ ...fit, verdict: 'direct' as const })) };
    }, false);
    expect(figures.falseSafety).toBeGreaterThan(20);
    expect(figures.trapsAccepted).toBeGreaterThan(20);
  });
});
