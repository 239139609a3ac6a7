import { describe, expect, it } from 'vitest';
import { gatesOf } from '../../../api/engine/fit/gates-of.ts';
import { createMachine } from '../../../api/engine/fit/machine.ts';
import { retrieve } from '../../../api/engine/retrieve/index.ts';
import { askQuestion, weighQuestion } from './ask-question.ts';
import { generateQuery } from './generate-query.ts';
import { buildOurSide } from './our-side.ts';
import { scanRows } from './score-question.ts';

describe('the question put to the databases', () => {
  it.each([false, true])('is the retrieval\'s own: a plain scan of the rows finds the same parts in the same order (unfriendly: %s)', (unfriendly) => {
    const our = buildOurSide({ count: 1500, seed: 12, unfriendly });
    const { snapshot, sample, index } = our.indexed;
    let found = 0;
    for (let seed = 0; seed < 90; seed++) {
      const record = generateQuery(seed, our.facts);
      const gates = gatesOf(createMachine(record, sample, {}), snapshot);
      const plain = scanRows(our.rows, askQuestion(record, gates, snapshot, our.rows), 20);
      expect(retrieve(index, gates, weighQuestion(record), 20).map(({ row }) => snapshot.ranks[row]!), `seed ${seed}`).toEqual(plain);
      found += plain.length;
    }
    expect(found).toBeGreaterThan(300);
  });
});
