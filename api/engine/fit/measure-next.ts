import type { FitAnswer } from '../../../catalog-schema/index.ts';
import type { Notes } from './finding.ts';
import { compareText, type Evaluated } from './order-fits.ts';

/**
 * Which reading, not yet taken, would settle most: for each one the listed fits that hang on it.
 * Worth in bits: log2(1 + fits whose unknown check it settles), each counted for the share of its unknown checks. It is a count, not an
 * inference: the answers' probabilities are not computed yet.
 */
export function rankReadings(listed: readonly Evaluated[], notes: Notes): FitAnswer['measureNext'] {
  const byReading = new Map<string, { from: string; criteria: Set<string>; fits: number; share: number }>();
  for (const { fit, findings } of listed) {
    if (fit.verdict === 'no') continue;
    const unknown = findings.filter(({ outcome }) => outcome === 'unknown');
    const seen = new Set<string>();
    for (const { criterion, readings = [] } of unknown) {
      for (const { what, from } of readings) {
        const entry = byReading.get(what) ?? { from, criteria: new Set<string>(), fits: 0, share: 0 };
        entry.criteria.add(criterion);
        if (!seen.has(what)) entry.fits++;
        entry.share += 1 / unknown.length;
        seen.add(what);
        byReading.set(what, entry);
      }
    }
  }
  if (byReading.size > 0) {
    notes.assume('worth of a reading: log2(1 + the listed fits that hang on it, each by its share of that fit\'s unknown checks); a count, since probabilities are not computed yet');
  }
  return [...byReading].map(([what, { from, criteria, fits, share }]) => ({
    what,
    why: `${[...criteria].join(', ')} of ${fits} listed ${fits === 1 ? 'fit hangs' : 'fits hang'} on it${from === 'maker' ? ' (the maker says, or the part in the hand)' : ''}`,
    worth: Math.round(Math.log2(1 + share) * 1e6) / 1e6,
  })).toSorted((a, b) => b.worth - a.worth || compareText(a.what, b.what));
}
