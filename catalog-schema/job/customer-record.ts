import { z } from 'zod';
import { evidence } from './evidence.ts';
import { asLeftAnswer } from './as-left-answer.ts';

const line = z.strictObject({ what: z.string(), showed: z.string() });
export type RecordLine = z.infer<typeof line>;

/** The customer's page of a job: what was measured, what it proved, what was replaced and what was not needed. Ready words, one sheet. */
export const customerRecord = z.strictObject({
  title: z.string(), machine: z.string().nullable(), customer: z.string().nullable(),
  found: z.strictObject({
    /** the evidence singles one fault out */
    proven: z.boolean(), words: z.string(),
    /** what would have settled it, where nothing is proven */
    settles: z.string().nullable(),
  }),
  /** on the machine, before anything was taken off; `carries`: the verdict rests on it */
  measured: z.array(line.extend({ carries: z.boolean() })),
  /** on the old part and of the machine's supply */
  bench: z.array(line),
  replaced: z.strictObject({
    words: z.string(), evidence: evidence.nullable(),
    /** wires that moved, new ends, jumpers: a line each */
    wiring: z.array(z.string()),
  }),
  /** what was shown good and not replaced */
  notNeeded: z.array(z.string()),
  /** what was tried on the machine afterwards */
  shown: z.array(line.extend({ good: z.boolean(), interlock: z.boolean() })),
  released: asLeftAnswer.shape.signOff.omit({ of: true }),
});
export type CustomerRecord = z.infer<typeof customerRecord>;
