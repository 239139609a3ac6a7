import { z } from 'zod';
import { partClass } from '../part.ts';

// What every door says of a job's As left checklist. Written by our own code, strict so that a test finds a key nobody knows.

/** How a step stands. An open one that was ticked all the same says why the tick does not count. */
export const asLeftMark = z.enum(['open', 'done', 'bad']);

export const asLeftStep = z.strictObject({
  /** the key of the step's tick in `asLeft` */
  id: z.string(),
  /** what a tick has to carry as `of` to count for the step as it stands */
  of: z.string(),
  kind: z.string(), required: z.boolean(),
  /** the tick says whether it did what it must: `outcome` */
  asksOutcome: z.boolean(),
  says: z.string(), details: z.array(z.string()), caution: z.string().nullable(),
  /** a reading's limit, V, A or Ω, and whose it is; null where the step asks for none */
  limit: z.strictObject({ low: z.number().nullable(), high: z.number().nullable(), unit: z.string(), yardstick: z.string() }).nullable(),
  mark: asLeftMark, because: z.string().nullable(),
  tick: z.strictObject({ at: z.string(), by: z.string().nullable(), reading: z.number().nullable(), outcome: z.enum(['good', 'bad']).nullable() }).nullable(),
});
export type AsLeftStepAnswer = z.infer<typeof asLeftStep>;

/** A line of the table of old and new wiring: a wire, a jumper to make, or terminals that stay bare. */
export const wiringLine = z.strictObject({
  kind: z.enum(['wire', 'jumper', 'bare']),
  wire: z.string(), leads: z.string(), was: z.string(), now: z.string(), end: z.string(),
  /** something has to be done here beside putting the wire back */
  work: z.boolean(),
});
export type WiringLine = z.infer<typeof wiringLine>;

/** What stands between a job and its sign-off: one line each, in the form of a refused input. `step` is the id of a step. */
export const signOffBlock = z.strictObject({ path: z.string(), found: z.string(), want: z.string(), says: z.string(), step: z.string().nullable() });
export type SignOffBlock = z.infer<typeof signOffBlock>;

export const asLeftAnswer = z.strictObject({
  title: z.string(), machine: z.string().nullable(), customer: z.string().nullable(),
  part: z.strictObject({ id: z.string(), title: z.string(), partClass }).nullable(),
  wiring: z.array(wiringLine), steps: z.array(asLeftStep),
  /** stack order and torques, with their sources */
  notes: z.array(z.string()), cautions: z.array(z.string()), assumptions: z.array(z.string()),
  blocks: z.array(signOffBlock),
  signOff: z.strictObject({
    /** a sign-off lapses when wires, choice or ticks are changed after it */
    state: z.enum(['none', 'stands', 'lapsed']), by: z.string().nullable(), at: z.string().nullable(),
    /** what `signedOff` has to carry as `of` to stand for the job as it is */
    of: z.string(),
  }),
});
export type AsLeftAnswer = z.infer<typeof asLeftAnswer>;
