import type { BenchReading } from './bench-readings.ts';
import { slipsOf } from './find-coils.ts';
import type { Weighed } from './gather-circuits.ts';
import type { Said } from './said.ts';

/** of the likeliest hypotheses, this many say whether a reading is a slip */
const HEARD = 12;
/** hypotheses looked through for one that explains a reading after all */
const MOST_LOOKED_AT = 400;

/**
 * Readings that cannot all be true. First two of one pair that differ by more than both errors; then a reading that every likely
 * explanation must take for a slip, with the readings that stand against the explanation that would keep it.
 */
export function findConflicts(readings: readonly BenchReading[], weighed: readonly Weighed[], points: readonly string[], said: Said): void {
  const named = new Set<number>();
  readings.forEach((one, i) => {
    for (const two of readings.slice(i + 1)) {
      if (!isSame(one, two) || !differ(one, two)) continue;
      named.add(one.index).add(two.index);
      said.conflicts.push({ paths: pathsOf([one.index, two.index]), why: `two readings between ${points[one.a]} and ${points[one.b]} that cannot both be true` });
    }
  });
  if (weighed.length === 0) return;
  const heard = weighed.slice(0, HEARD);
  const total = heard.reduce((sum, { share }) => sum + share, 0);
  const slips = readings.map(() => 0);
  for (const { hypothesis, share } of heard) {
    slipsOf(hypothesis, readings).forEach((slip, i) => { slips[i]! += slip * share / total; });
  }
  const told = new Set<string>();
  readings.forEach((reading, i) => {
    if (slips[i]! <= 0.5 || named.has(reading.index)) return;
    const against = whatStandsAgainst(reading, i, readings, weighed).filter((index) => !named.has(index));
    const paths = pathsOf([reading.index, ...against]);
    if (told.has(paths.join())) return;
    told.add(paths.join());
    said.conflicts.push({
      paths, why: against.length > 0 ? `no common form has ${paths.length === 2 ? 'both' : 'all'} of these readings: what was read between ${points[reading.a]} and ${points[reading.b]} does not go with the others`
        : `no common form has what was read between ${points[reading.a]} and ${points[reading.b]}`,
    });
  });
}

/** The readings that are slips under the likeliest explanation that keeps this one. */
function whatStandsAgainst(reading: BenchReading, i: number, readings: readonly BenchReading[], weighed: readonly Weighed[]): number[] {
  for (const { hypothesis } of weighed.slice(0, MOST_LOOKED_AT)) {
    const slips = slipsOf(hypothesis, readings);
    if (slips[i]! < 0.5) return readings.filter((each, j) => each !== reading && slips[j]! > 0.5).map(({ index }) => index);
  }
  return [];
}

/** Same pair, same state, and the same way round where a supply makes that matter. */
function isSame(one: BenchReading, two: BenchReading): boolean {
  const turned = one.a === two.b && one.b === two.a;
  if (!turned && !(one.a === two.a && one.b === two.b)) return false;
  if (one.held !== two.held) return false;
  // A meter shows the same either way round.
  const way = ({ plus }: BenchReading, swap: boolean): string => (swap && plus === 'a' ? 'b' : swap && plus === 'b' ? 'a' : plus);
  return way(one, false) === way(two, turned) && one.plus !== 'either';
}

function differ(one: BenchReading, two: BenchReading): boolean {
  if (one.open || two.open) return one.open !== two.open;
  return Math.abs(one.value - two.value) > 2 * (one.sigma + two.sigma);
}

function pathsOf(indices: readonly number[]): string[] {
  return indices.toSorted((a, b) => a - b).map((index) => `ohms[${index}]`);
}
