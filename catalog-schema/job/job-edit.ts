import { z } from 'zod';
import { identifier, text } from '../scalar.ts';

/** A value an edit may carry: any JSON; null takes the field away. */
const jsonValue: z.ZodType<JsonValue> = z.lazy(() =>
  z.union([text, z.number(), z.boolean(), z.null(), z.array(jsonValue).max(500), z.record(z.string(), jsonValue)], { error: 'want:a JSON value' }));
export type JsonValue = string | number | boolean | null | JsonValue[] | { [key: string]: JsonValue };

/**
 * One edit of one field of a job, made on some device. Edits are only ever appended; a job's state is what they add up to.
 * `id` comes from the device (a UUID), so sending the same edit twice changes nothing.
 */
export const jobEdit = z.strictObject({
  id: z.uuid(),
  /** path into the job's document, such as ['record', 'wires', 'W1', 'colour'] */
  field: z.array(identifier).min(1).max(8),
  value: jsonValue,
  /** the job's revision that the device had when the edit was made */
  base: z.int().min(0),
  author: text.optional(),
  /** when it was made, by the device's clock, ISO 8601 */
  at: z.iso.datetime(),
});
export type JobEdit = z.infer<typeof jobEdit>;
