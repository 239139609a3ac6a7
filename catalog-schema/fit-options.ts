import { z } from 'zod';
import { verdict } from './answer.ts';
import { readInput, type Read } from './input-fault.ts';
import { LIMITS } from './limits.ts';
import { identifier, text, wanted, wholeAboveZero, wholeZeroOrMore } from './scalar.ts';
import { checkSound } from './sound-check.ts';

/** How often a part, once fitted, held and how often the machine came back with it, on one kind of machine where that is known. */
export const fitHistoryRow = z.strictObject({
  partId: identifier, machineKind: text.optional(), held: wholeZeroOrMore, cameBack: wholeZeroOrMore,
});
export type LearnedRow = z.infer<typeof fitHistoryRow>;

/** What a shop has learned of parts: one row for each part and kind of machine. Parts that are in no catalogue do not matter. */
export const fitHistory = z.array(fitHistoryRow).max(LIMITS.historyRows).check(
  checkSound<LearnedRow[]>(['*.partId', '*.machineKind'], (rows, issues) => {
    const seen = new Set<string>();
    rows.forEach(({ partId, machineKind = '' }, index) => {
      const pair = JSON.stringify([partId, machineKind]);
      if (seen.has(pair)) issues.push(wanted(partId, [index, 'partId'], 'a part that has one row for each kind of machine'));
      seen.add(pair);
    });
  }),
);
export type FitHistory = z.infer<typeof fitHistory>;

/** Which of the fits are listed. Every key narrows; what is left out is counted among the considered all the same. */
export const fitFilter = z.strictObject({
  verdicts: z.array(verdict).optional(),
  /** at least one unit of it is free on the shelf of the prices */
  onShelf: z.boolean().optional(),
  /** this supplier offers it today in the prices */
  supplierId: identifier.optional(),
  partIds: z.array(identifier).max(LIMITS.partIdsWanted).optional(),
});
export type FitFilter = z.infer<typeof fitFilter>;

/** What may stand beside record and prices in a question to `fit`. */
export const fitWishes = {
  /** also list the parts that will not do */
  all: z.boolean().optional(),
  /** list at most so many; what to measure next, cautions and assumptions then speak of those alone */
  most: wholeAboveZero.optional(),
  only: fitFilter.optional(),
  history: fitHistory.optional(),
  /** the kind of machine at hand, in the form of `machineKindOf`: what was learned on such machines counts in full */
  machineKind: text.optional(),
};

/** Reads what a shop has learned of parts. */
export function readHistory(value: unknown): Read<FitHistory> {
  return readInput(fitHistory, value);
}
