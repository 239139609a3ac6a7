import { describe, expect, it } from 'vitest';
import { sampleCatalogue } from '../../../api/engine/fit/catalogue-sample.ts';
import { createMachine } from '../../../api/engine/fit/machine.ts';
import { wiringFormOf } from '../../../api/engine/rewire/index.ts';
import { factsOf } from '../../../api/engine/part-facts.ts';
import { profileOf } from '../../../api/engine/snapshot/index-columns.ts';
import { generateParts } from '../../bench/fit/generate-catalogue.ts';
import { generateQuery } from '../../bench/fit/generate-query.ts';

describe.each([false, true])('a form that refuses every wiring, unfriendly %s', (unfriendly) => {
  it('does so for every part of its profile, whatever its ohms, volts and ratings', () => {
    const facts = { count: 1500, seed: 103, unfriendly };
    const parts = [...generateParts(facts)].filter(({ partClass }) => partClass !== 'starter-motor').map((part) => ({ part, profile: profileOf(part, factsOf(part)) }));
    const sample = sampleCatalogue(parts.map(({ part }) => part));
    let refused = 0;
    for (let seed = 0; seed < 24; seed++) {
      const record = generateQuery(500_000 + seed, facts, 'full');
      if (record.partClass === 'starter-motor' || !record.wires?.some(({ leadsTo }) => leadsTo === 'cranking-feed' || leadsTo === 'interlocked-return')) continue;
      const { rewirer } = createMachine(record, sample, {});
      // Whichever part stands for the profile: all of one have one form.
      const forms = new Map(parts.map(({ part, profile }) => [profile, wiringFormOf(part)]));
      for (const { part, profile } of parts) {
        expect(wiringFormOf(part)).toBe(forms.get(profile));
        if (!rewirer.refusesForm(forms.get(profile)!)) continue;
        expect(rewirer.isRefused(part), `seed ${seed}, ${part.id}, ${profile}`).toBe(true);
        refused++;
      }
    }
    expect(refused).toBeGreaterThan(1000);
  }, 60_000);
});
