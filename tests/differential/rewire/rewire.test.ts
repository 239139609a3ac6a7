import { describe, expect, it } from 'vitest';
import { rewire } from '../../../api/engine/rewire/index.ts';
import { benchRecordSchema, partSchema, rewireAnswer } from '../../../catalog-schema/index.ts';
import { generateCase } from './case-generator.ts';
import { compareAnswers } from './compare-answers.ts';
import { Mix } from './mix.ts';
import { rewirePlainly } from './plain-rewire.ts';

/** The whole of it, larger: `npm run sweep:rewire`. */
const CASES = 80;
const GROUP = 20;
const FIRST_SEED = 1;

describe('the engine\'s rewire against a search that tries everything', () => {
  const mix = new Mix();

  for (let first = FIRST_SEED; first < FIRST_SEED + CASES; first += GROUP) {
    it(`agrees on plans, their order and the refusals, seeds ${first} to ${first + GROUP - 1}`, { timeout: 60_000 }, () => {
      for (let seed = first; seed < first + GROUP; seed++) {
        const { record, part, form } = generateCase(seed);
        expect(benchRecordSchema.safeParse(record).error, `record of seed ${seed}`).toBeUndefined();
        expect(partSchema.safeParse(part).error, `part of seed ${seed}`).toBeUndefined();
        const plain = rewirePlainly(record, part);
        mix.add(plain);
        const answer = rewireAnswer.parse(rewire(record, part));
        expect(compareAnswers(answer, plain), `seed ${seed}, ${form}`).toEqual([]);
      }
    });
  }

  it('was asked cases with plans, without, and with most refusals', () => {
    expect(mix.shareOf('with a plan')).toBeGreaterThan(0.3);
    expect(mix.shareOf('without a plan')).toBeGreaterThan(0.2);
    expect(mix.shareOf('with a jumper in some plan')).toBeGreaterThan(0.1);
    expect(mix.shareOf('obvious plan right')).toBeGreaterThan(0.1);
    expect(mix.shareOf('obvious plan wrong')).toBeGreaterThan(0.3);
    for (const code of [
      'shorts-a-wire', 'over-fuse', 'defeats-interlock', 'never-pulls-in', 'always-pulled-in', 'starter-always-live', 'latches',
      'back-feeds', 'cranking-feed-lost', 'polarity', 'wire-not-traced',
    ]) expect(mix.shareOf(`refused as ${code}`), code).toBeGreaterThan(0);
  });
});
