import { z } from 'zod';
import { readInput, type Read } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import { identifier, text, wanted, wholeZeroOrMore } from '../scalar.ts';
import { checkSound } from '../sound-check.ts';

/** How often a part that was fitted held and how often the machine came back with it: in place of a number, or all in all where none is named. */
export const replacementRow = z.strictObject({ partId: identifier, number: text.optional(), held: wholeZeroOrMore, cameBack: wholeZeroOrMore });
export type ReplacementRow = z.infer<typeof replacementRow>;

/** What a shop has found of parts and of the numbers they took the place of: one row for each pair. Parts that are in no catalogue do not matter. */
export const replacements = z.array(replacementRow).max(LIMITS.historyRows).check(
  checkSound<ReplacementRow[]>(['*.partId', '*.number'], (rows, issues) => {
    const seen = new Set<string>();
    rows.forEach(({ partId, number = null }, index) => {
      const pair = JSON.stringify([partId, number]);
      if (seen.has(pair)) issues.push(wanted(partId, [index, 'partId'], 'a part that has one row for each number'));
      seen.add(pair);
    });
  }),
);
export type Replacements = z.infer<typeof replacements>;

/** Reads what a shop has found of parts. */
export function readReplacements(value: unknown): Read<Replacements> {
  return readInput(replacements, value);
}
