import type { BenchRecord, Catalogue } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import type { Notes } from './finding.ts';
import type { Evaluated } from './order-fits.ts';

/**
 * What the catalogue says about the numbers on the removed part. A number is evidence and overrides no check: where the part of that
 * number does not pass, that is a caution.
 */
export function describeMarkedNumbers(
  record: BenchRecord, catalogue: Catalogue, evaluated: readonly Evaluated[], all: boolean, notes: Notes,
): void {
  const verdicts = new Map(evaluated.map(({ fit }) => [fit.partId, fit]));
  for (const marked of record.marked?.numbers ?? []) {
    const wanted = normaliseNumber(marked);
    for (const part of catalogue) {
      const how = (part.numbers ?? []).some(({ number }) => normaliseNumber(number) === wanted) ? 'carries'
        : (part.replaces ?? []).some(({ number }) => normaliseNumber(number) === wanted) ? 'is claimed to replace' : undefined;
      if (how === undefined) continue;
      notes.assume(`${part.id} ${how} the marked number ${marked}: shown only, a number overrides no check`);
      const entry = verdicts.get(part.id);
      // Parts that failed are not among the evaluated unless all were asked for.
      if (entry ? entry.verdict === 'no' : !all) notes.caution(`${part.id} ${how} the marked number ${marked}, and will not do here${entry ? `: ${whyNot(entry)}` : ''}`);
    }
  }
}

function whyNot(entry: Evaluated['fit']): string {
  return entry.checks.filter(({ outcome }) => outcome === 'fail').map(({ criterion, why }) => `${criterion}, ${why}`).join('; ');
}

