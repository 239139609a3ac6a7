import { describe, expect, it } from 'vitest';
import { WiringMemory } from '../../../api/engine/rewire/index.ts';
import { compareForms } from './compare-forms.ts';

describe('what is found by the forms of parts', () => {
  it('equals a search of each part by itself, to the last digit', { timeout: 120_000 }, () => {
    const sum = { parts: 0, refused: 0, refusedByForm: 0 };
    let memory = new WiringMemory();
    for (let index = 0; index < 100; index++) {
      // Half of them share what other machines found out, as in a shop.
      if (index % 25 === 0) memory = new WiringMemory();
      const seed = 9001 + index;
      const found = compareForms(seed, index % 2 === 0 ? memory : undefined);
      expect(found.differences, `seed ${seed}`).toEqual([]);
      sum.parts += found.parts;
      sum.refused += found.refused;
      sum.refusedByForm += found.refusedByForm;
    }
    // All three happen: a plan, a refusal by numbers, a refusal whatever the numbers.
    expect(sum.refused / sum.parts).toBeGreaterThan(0.2);
    expect(sum.refused / sum.parts).toBeLessThan(0.8);
    expect(sum.refusedByForm).toBeGreaterThan(100);
    expect(sum.refused - sum.refusedByForm).toBeGreaterThan(100);
  });
});
