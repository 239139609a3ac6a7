import { z } from 'zod';
import { LIMITS } from '../limits.ts';
import { identifier, text, wholeZeroOrMore } from '../scalar.ts';

/** Lists and objects within one another that an edit's value may have: a whole bench record needs 8. */
const MOST_NESTED = 16;
const MOST_ENTRIES = 500;

export type JsonValue = string | number | boolean | null | JsonValue[] | { [key: string]: JsonValue };

/** A value an edit may carry: any JSON; null takes the field away. */
const jsonValue = z.any().refine((value) => isJsonValue(value, MOST_NESTED), {
  error: `want:a JSON value: nested at most ${MOST_NESTED} deep, ${MOST_ENTRIES} entries a list, ${LIMITS.stringCharacters} characters a text`,
}) as unknown as z.ZodType<JsonValue>;

function isJsonValue(value: unknown, deeper: number): boolean {
  switch (typeof value) {
    case 'string': return value.length <= LIMITS.stringCharacters;
    case 'number': return Number.isFinite(value);
    case 'boolean': return true;
    case 'object': {
      if (value === null) return true;
      const entries = Array.isArray(value) ? value : Object.values(value);
      return deeper > 0 && entries.length <= MOST_ENTRIES && !Object.hasOwn(value, '__proto__') && entries.every((entry) => isJsonValue(entry, deeper - 1));
    }
    default: return false;
  }
}

/**
 * One edit of one field of a job, made on some device. Edits are only ever appended; a job's state is what they add up to.
 * `id` comes from the device (a UUID), so sending the same edit twice changes nothing.
 */
export const jobEdit = z.strictObject({
  id: z.uuid(),
  /** path into the job's document, such as ['record', 'wires', 'W1', 'colour'] */
  field: z.array(identifier).min(1).max(8),
  value: jsonValue,
  /** the job's revision that the device had when the edit was made: it knew of the edits up to there, and of its own */
  base: wholeZeroOrMore,
  author: text.optional(),
  /** the browser or program it was made on. Without it the author tells edits apart; without either each comes from a device of its own. */
  device: z.uuid().optional(),
  /** the id of the first edit of one act of a person: its edits count together. Absent: an act by itself. */
  act: z.uuid().optional(),
  /** held edits that a person decides by this one: `editId` of the job's conflicts, which they have seen */
  settles: z.array(z.uuid()).min(1).max(MOST_ENTRIES).optional(),
  /** when it was made, by the device's clock, ISO 8601 */
  at: z.iso.datetime(),
});
export type JobEdit = z.infer<typeof jobEdit>;

/** An edit as the log keeps it. */
export const loggedEdit = jobEdit.extend({
  /** what the server found in its way when it arrived, beyond what the log itself tells: a line each. Such an edit is held. */
  heldFor: z.array(text).min(1).max(MOST_ENTRIES).optional(),
});
export type LoggedEdit = z.infer<typeof loggedEdit>;
