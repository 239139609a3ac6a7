import type { BenchRecord, IdentifyAnswer, OhmReading } from '../../../catalog-schema/index.ts';
import type { ReadingSetUp } from '../measure-target.ts';

/** A reading with the key it has in the document. */
export interface KeyedReading { readonly key: string; readonly reading: OhmReading }
/** Two places and what was read between them. */
export interface PairRow { readonly between: readonly [string, string]; readonly readings: readonly KeyedReading[] }

/** With more places than this only pairs that were read, or shall be next, have a row. */
const MOST_PLACES_IN_FULL = 5;

/** How a reading was taken; a bare one by meter, at rest. */
export function setUpOf({ between, by, plusOn, pulledIn }: OhmReading): ReadingSetUp {
  return { between, by: by ?? 'meter', plusOn, pulledIn: pulledIn ?? false };
}

export function samePair(a: readonly [string, string], b: readonly [string, string]): boolean {
  return (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);
}

/** Whether two readings ask the part the same thing: then the later one corrects the earlier. */
export function sameSetUp(a: ReadingSetUp, b: ReadingSetUp): boolean {
  return samePair(a.between, b.between) && a.by === b.by && a.plusOn === b.plusOn && a.pulledIn === b.pulledIn;
}

/** The key of the reading taken this way: the one that is there, else the next that is free. */
export function keyFor(readings: Readonly<Record<string, OhmReading>>, setUp: ReadingSetUp): string {
  const same = Object.entries(readings).find(([, reading]) => sameSetUp(setUpOf(reading), setUp));
  if (same !== undefined) return same[0];
  let number = Object.keys(readings).length + 1;
  while (readings[`r${number}`] !== undefined) number += 1;
  return `r${number}`;
}

/** The ohm table: every pair of terminals, and of terminal and case, in the record's order, with what was read. */
export function layOhmTable(record: BenchRecord, readings: Readonly<Record<string, OhmReading>>, asked: readonly ReadingSetUp[]): PairRow[] {
  const places = [...(record.terminals ?? []).map(({ id }) => id), 'case'];
  const keyed = Object.entries(readings).map(([key, reading]): KeyedReading => ({ key, reading }));
  const rows = places.flatMap((a, at) => places.slice(at + 1).map((b): PairRow => ({
    between: [a, b], readings: keyed.filter(({ reading }) => samePair(reading.between, [a, b])),
  })));
  return places.length <= MOST_PLACES_IN_FULL ? rows
    : rows.filter((row) => row.readings.length > 0 || asked.some(({ between }) => samePair(between, row.between)));
}

/** What the engine says against each reading, by the reading's key in the document; its paths count readings as the record lists them. */
export function clashesByKey(readings: Readonly<Record<string, OhmReading>>, conflicts: IdentifyAnswer['conflicts']): Map<string, string[]> {
  const keys = Object.keys(readings);
  const clashes = new Map<string, string[]>();
  for (const { paths, why } of conflicts) {
    for (const path of paths) {
      const index = /^ohms\[(\d+)\]/.exec(path)?.[1];
      const key = index === undefined ? undefined : keys[Number(index)];
      if (key === undefined) continue;
      const said = clashes.get(key) ?? [];
      if (!said.includes(why)) clashes.set(key, [...said, why]);
    }
  }
  return clashes;
}

/** What the engine says against the figures of one terminal. */
export function clashesOfTerminal(record: BenchRecord, terminal: string, conflicts: IdentifyAnswer['conflicts']): string[] {
  const at = (record.terminals ?? []).findIndex(({ id }) => id === terminal);
  return conflicts.filter(({ paths }) => paths.some((path) => path.startsWith(`terminals[${at}]`))).map(({ why }) => why);
}
