import { z } from 'zod';

/** A fault found by a check of ours; `path` is relative to the value the check stands on. */
export interface WantedIssue {
  readonly code: 'custom';
  /** the value keeps its shape, so further checks may look at it */
  readonly continue: true;
  readonly input: unknown;
  readonly path: (string | number)[];
  readonly message: string;
}
export type Issues = WantedIssue[];

/**
 * A check over several fields that runs as soon as those fields have their shape, whatever else is wrong with the input.
 * (Zod's own `check` waits until nothing at all is wrong, so that a wrong title would hide a reference to nothing.)
 * @param needs paths the check reads: 'terminals.*.id' is the id of every terminal. The check is left out only where one of them is
 *   of the wrong type; a value out of bounds does not stop it.
 */
export function checkSound<T>(needs: readonly string[], check: (value: T, issues: Issues) => void): z.core.$ZodCheck<T> {
  const patterns = needs.map((need) => need.split('.'));
  const made = z.core._check<T>((payload) => {
    check(payload.value, payload.issues as unknown as Issues);
  });
  made._zod.def.when = ({ value, issues }) =>
    typeof value === 'object' && value !== null
    && !issues.some((issue) => issue.continue !== true && issue.code !== 'unrecognized_keys' && patterns.some((pattern) => touches(issue.path ?? [], pattern)));
  return made;
}

/** Does a fault at `path` concern `pattern`: it stands on the way to it, at it, or inside it. */
function touches(path: readonly PropertyKey[], pattern: readonly string[]): boolean {
  const shared = Math.min(path.length, pattern.length);
  for (let i = 0; i < shared; i++) if (pattern[i] !== '*' && pattern[i] !== String(path[i])) return false;
  return true;
}
