import { normaliseNumber } from '../normalise-number.ts';
import type { Part } from '../../../catalog-schema/index.ts';

/**
 * Which stocked part serves the demand of one that is not stocked: its only successor, else the stocked part that is claimed to replace one of
 * its numbers; of several the first by id. A claim is believed here, where a wrong one costs a unit too many: whether the part goes on a
 * machine is decided by `fit` alone.
 * @param stocked ids of the parts that are kept
 */
export function listStandIns(catalogue: readonly Part[], stocked: ReadonlySet<string>): Map<string, string> {
  const byId = new Map(catalogue.map((part) => [part.id, part]));
  const claims = new Map<string, string>();
  for (const part of catalogue.filter(({ id }) => stocked.has(id)).toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
    for (const { number } of part.replaces ?? []) {
      const key = normaliseNumber(number);
      if (!claims.has(key)) claims.set(key, part.id);
    }
  }
  const standIns = new Map<string, string>();
  for (const part of catalogue) {
    if (stocked.has(part.id)) continue;
    const standIn = followSuccessor(part, byId, stocked) ?? (part.numbers ?? []).map(({ number }) => claims.get(normaliseNumber(number))).find((id) => id !== undefined && id !== part.id);
    if (standIn !== undefined) standIns.set(part.id, standIn);
  }
  return standIns;
}

/** The stocked part at the end of a chain of single successors. */
function followSuccessor(part: Part, byId: ReadonlyMap<string, Part>, stocked: ReadonlySet<string>): string | undefined {
  const seen = new Set<string>();
  let at: Part | undefined = part;
  while (at !== undefined && !seen.has(at.id)) {
    if (stocked.has(at.id)) return at.id;
    seen.add(at.id);
    at = at.supersededBy?.length === 1 ? byId.get(at.supersededBy[0]!) : undefined;
  }
  return undefined;
}
