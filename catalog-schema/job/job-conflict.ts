import { z } from 'zod';
import { text, wholeZeroOrMore } from '../scalar.ts';
import { jobEdit } from './job-edit.ts';

/**
 * Why an edit is held:
 * `other-value`: another device, which did not know of it, wrote something else in the same field before it arrived;
 * `does-not-read`: on top of what arrived meanwhile the document would not read, as when the terminal of a wire has been taken away;
 * `signed-off`: it and a sign-off did not know of each other: whoever signs has to have seen what is signed;
 * `open-conflicts`: a sign-off while something waited for a choice;
 * `not-ready`: the server found steps open when a sign-off arrived.
 */
export const HELD_FOR = ['other-value', 'does-not-read', 'signed-off', 'open-conflicts', 'not-ready'] as const;

/** An edit that is in the log and does not count, with what stands in its place, until a person has chosen. */
export const jobConflict = z.strictObject({
  /** the held edit: what an edit names in `settles` to decide this. Of several by one device that build on each other, the last. */
  editId: z.uuid(),
  field: jobEdit.shape.field,
  /** edits held of one act belong together */
  act: jobEdit.shape.act,
  why: z.enum(HELD_FOR),
  /** what would be wrong with the document, or is still open; a line each */
  faults: z.array(text),
  /** what the document has there, and who wrote it, where that is known; null: nothing stands there */
  standing: z.strictObject({
    value: jobEdit.shape.value, author: jobEdit.shape.author, device: jobEdit.shape.device, at: jobEdit.shape.at.optional(),
  }),
  /** null: the field taken away */
  held: z.strictObject({
    value: jobEdit.shape.value, author: jobEdit.shape.author, device: jobEdit.shape.device, at: jobEdit.shape.at,
    /** the job's revision with which it arrived */
    revision: wholeZeroOrMore,
  }),
});
export type JobConflict = z.infer<typeof jobConflict>;
