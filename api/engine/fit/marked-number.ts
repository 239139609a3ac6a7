import type { BenchRecord, Catalogue, Fit, Part } from '../../../catalog-schema/index.ts';
import { normaliseNumber } from '../normalise-number.ts';
import type { Notes } from './finding.ts';
import { compareText } from './order-fits.ts';

/**
 * What the catalogue says about the numbers on the removed part. A number is evidence and overrides no check: where a part of that number
 * does not pass, that is a caution.
 * @param evaluate all checks of one part
 */
export function describeMarkedNumbers(record: BenchRecord, catalogue: Catalogue, evaluate: (part: Part) => Fit, notes: Notes): void {
  for (const marked of record.marked?.numbers ?? []) {
    const wanted = normaliseNumber(marked);
    const named = catalogue.flatMap((part) => {
      const how = (part.numbers ?? []).some(({ number }) => normaliseNumber(number) === wanted) ? 'carries'
        : (part.replaces ?? []).some(({ number }) => normaliseNumber(number) === wanted) ? 'is claimed to replace' : undefined;
      return how === undefined ? [] : [{ part, how }];
    });
    for (const { part, how } of named.toSorted((a, b) => compareText(a.part.id, b.part.id))) {
      notes.assume(`${part.id} ${how} the marked number ${marked}: shown only, a number overrides no check`);
      const failed = evaluate(part).checks.filter(({ outcome }) => outcome === 'fail');
      if (failed.length > 0) {
        notes.caution(`${part.id} ${how} the marked number ${marked}, and will not do here: ${failed.map(({ criterion, why }) => `${criterion}, ${why}`).join('; ')}`);
      }
    }
  }
}
