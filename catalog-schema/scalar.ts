import { z } from 'zod';
import { LIMITS } from './limits.ts';
import { checkSound, type Issues, type WantedIssue } from './sound-check.ts';

/** Any text a person writes; at most 2,000 characters. */
export const text = z.string().max(LIMITS.stringCharacters);
/** A name that other places refer to: at least one character. */
export const identifier = text.min(1);

export const number = z.number();
export const aboveZero = z.number().gt(0);
export const zeroOrMore = z.number().min(0);
// z.int() would stop every later check of the input at the first number that is not whole.
// The smallest numbers there are pass for a multiple of 1.
const whole = z.number().multipleOf(1).max(Number.MAX_SAFE_INTEGER).refine(Number.isInteger, { error: 'want:a whole number' });
export const wholeAboveZero = whole.gt(0).meta({ type: 'integer' });
export const wholeZeroOrMore = whole.min(0).meta({ type: 'integer' });
/** Degrees Celsius; nothing is colder than absolute zero. */
export const celsius = z.number().gt(-273.15);
/** A calendar day that exists, `YYYY-MM-DD`. */
export const day = z.iso.date();
/** ISO 4217 alphabetic code. */
export const currencyCode = z.string().regex(/^[A-Z]{3}$/, { error: 'want:an ISO 4217 currency code such as EUR' });
/** Money as a decimal number; never negative. */
export const money = zeroOrMore;

/** IEC 60529 code: 'IP', first digit 0 to 6 or X, second digit 0 to 9 or X (9K of ISO 20653 is read too), letters. */
export const sealingCode = z
  .string()
  .regex(/^IP[0-6X]([0-8X]|9K?)[A-DHMSW]*$/, { error: 'want:an IEC 60529 code such as IP67' });

export const temperatureRange = z
  .strictObject({ min: celsius, max: celsius })
  .check(checkSound<{ min: number; max: number }>(['min', 'max'], ({ min, max }, issues) => {
    if (min > max) issues.push(wanted(min, ['min'], `a number at most max (${max})`));
  }));

export type TemperatureRange = z.infer<typeof temperatureRange>;

/**
 * A fault found by a check of ours, in the form in which `readInput` describes it.
 * `path` is relative to the schema the check stands on.
 */
export function wanted(found: unknown, path: (string | number)[], want: string): WantedIssue {
  return { code: 'custom', continue: true, input: found, path, message: `want:${want}` };
}

/** Pushes one fault for each entry whose key was seen before it. `what` is the singular: 'terminal id'. */
export function pushDuplicates<T>(
  issues: Issues,
  entries: readonly T[],
  keyOf: (entry: T) => string | undefined,
  pathOf: (index: number) => (string | number)[],
  what: string,
): void {
  const seen = new Set<string>();
  entries.forEach((entry, index) => {
    const key = keyOf(entry);
    if (key === undefined) return;
    if (seen.has(key)) issues.push(wanted(key, pathOf(index), `a ${what} that is not used twice`));
    seen.add(key);
  });
}
