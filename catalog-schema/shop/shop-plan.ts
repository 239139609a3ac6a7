import { z } from 'zod';
import { OTHER_PLANS, sourceAnswer } from '../answer.ts';
import { evidence } from '../job/evidence.ts';
import { topUp } from '../reorder.ts';
import { currencyCode, day, identifier, text, wholeAboveZero } from '../scalar.ts';

/** Something to be got: for a job, or for the shelf itself where no job is named. `id` is the need's in the plan. */
export const planWant = z.strictObject({
  id: identifier, jobId: z.uuid().optional(), title: text, machine: text.optional(),
  /** the chosen part, and so many others that would do */
  partId: identifier, others: z.number(), qty: wholeAboveZero, by: day, evidence: evidence.optional(),
});
export type PlanWant = z.infer<typeof planWant>;

/** What to get for all open jobs together. `hash` names the state of jobs, shelf and offers that it was worked out from. */
export const shopPlan = z.strictObject({
  hash: z.string(), currency: currencyCode, today: day, wants: z.array(planWant), answer: sourceAnswer,
  /** what the orders of the least plan could take on to reach free freight, where that lowers the expected cost */
  topUps: z.array(topUp),
});
export type ShopPlan = z.infer<typeof shopPlan>;

export const planWish = z.strictObject({
  /** also what the shelf should have again */
  shelf: z.enum(['true', 'false']).optional(),
});

/** Takes a plan as it was shown: its orders are drafted and its units put aside, all or nothing. The id comes from the device. */
export const planAcceptance = z.strictObject({
  id: z.uuid(), hash: z.string().min(1).max(200), shelf: z.boolean().optional(), which: z.enum(['least', ...OTHER_PLANS]),
  /** suppliers whose top-up is taken too; with the least plan only */
  topUps: z.array(identifier).max(100).optional(), at: z.iso.datetime(),
});
export type PlanAcceptance = z.infer<typeof planAcceptance>;

export const acceptedPlan = z.strictObject({
  orders: z.array(z.strictObject({ id: z.uuid(), supplierId: z.string(), lines: z.number() })),
  putAside: z.array(z.strictObject({ jobId: z.string(), partId: z.string(), qty: z.number(), bin: z.string() })),
});
export type AcceptedPlan = z.infer<typeof acceptedPlan>;
