import { z } from 'zod';
import { LIMITS } from '../limits.ts';
import { measured } from '../measured.ts';
import { aboveZero, identifier, number, text, wholeAboveZero } from '../scalar.ts';
import { terminalId } from '../part.ts';

/** Photographs of a job by the SHA-256 of their bytes, in hexadecimal. */
export const photographHash = z.string().regex(/^[0-9a-f]{64}$/, { error: 'want:a SHA-256 in hexadecimal' });

/** A mark on a photograph: px from its upper left corner, y downwards, and the sigma of the hand that made it, px. */
export const photographMark = z.strictObject({ xPx: number, yPx: number, noisePx: aboveZero });
export type PhotographMark = z.infer<typeof photographMark>;

const marks = z.array(photographMark).min(1).max(LIMITS.photographMarks);

/** Something marked beside the card. `middle` is one mark; `across` two on opposite sides; `rim` three or more around it. */
export const photographThing = z.strictObject({
  what: z.enum(['hole', 'terminal', 'length']),
  /** of a terminal: which one of the record */
  terminal: terminalId.optional(),
  by: z.enum(['middle', 'across', 'rim']),
  marks,
});
export type PhotographThing = z.infer<typeof photographThing>;

/**
 * What a job keeps of a photograph beside its bytes, so that measuring can be taken up again. Marks count in a picture of
 * `widthPx` x `heightPx`: the photograph upright, scaled to that size. Edges and things are kept by a name of the device's making.
 */
export const jobPhotograph = z.strictObject({
  name: text,
  at: z.iso.datetime(),
  widthPx: wholeAboveZero.max(LIMITS.photographSidePx),
  heightPx: wholeAboveZero.max(LIMITS.photographSidePx),
  /** from which side the camera saw the part; absent = from the body's side */
  seenFrom: z.enum(['body', 'behind']).optional(),
  /** where in the picture the bracket lies, as seen from the terminals; absent = below them */
  bracketSide: z.enum(['down', 'left', 'up', 'right']).optional(),
  /** one of the two long edges of the card, where a person said so */
  longEdge: identifier.optional(),
  /** how far holes and terminals lie above the card's upper face, towards the camera, mm */
  raisedMm: z.strictObject({ holes: measured.optional(), terminals: measured.optional() }).optional(),
  /** the picture as the camera made it, where it was kept beside this scaled one: its own hash, in the same job */
  original: photographHash.optional(),
  edges: limitEntries(z.strictObject({ marks }), 4).optional(),
  things: limitEntries(photographThing, LIMITS.photographThings).optional(),
});
export type JobPhotograph = z.infer<typeof jobPhotograph>;

/** What the server answers of a photograph it keeps. Width and height are as it is shown. */
export const storedPhotograph = z.strictObject({
  hash: photographHash, type: z.enum(['image/jpeg', 'image/png', 'image/webp']), bytes: wholeAboveZero, widthPx: wholeAboveZero, heightPx: wholeAboveZero,
});
export type StoredPhotograph = z.infer<typeof storedPhotograph>;

function limitEntries<S extends z.ZodType>(entry: S, most: number) {
  return z.record(identifier, entry).refine((entries) => Object.keys(entries).length <= most, { error: `want:at most ${most} entries` });
}
