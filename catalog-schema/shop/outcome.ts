import { z } from 'zod';
import { checkSound } from '../sound-check.ts';
import { identifier, text, wanted } from '../scalar.ts';

/** What became of a fitted part: it is still at work, or the machine came back with it. */
export const outcomeResult = z.enum(['held', 'came-back']);
export type OutcomeResult = z.infer<typeof outcomeResult>;

/** Why a machine came back. `fault-elsewhere` speaks of the machine, not of the part: it does not count against the part. */
export const CAME_BACK_REASONS = ['did-not-go-on', 'did-not-work', 'failed', 'fault-elsewhere', 'other'] as const;
export const cameBackReason = z.enum(CAME_BACK_REASONS);
export type CameBackReason = z.infer<typeof cameBackReason>;

const keys = {
  id: z.uuid(), jobId: z.uuid(), partId: identifier, result: outcomeResult, reason: cameBackReason.optional(), words: text.optional(),
  by: text.optional(), at: z.iso.datetime(),
};
type ReportShape = { result: OutcomeResult; reason?: CameBackReason | undefined };
const reasonCheck = checkSound<ReportShape>(['result', 'reason'], ({ result, reason }, issues) => {
  if (result === 'came-back' && reason === undefined) issues.push(wanted(reason, ['reason'], `one of ${CAME_BACK_REASONS.join(', ')}`));
  if (result === 'held' && reason !== undefined) issues.push(wanted(reason, ['reason'], 'it left out: the part held'));
});

/**
 * What became of a part that was fitted on a job. The id comes from the device, so sending it twice changes nothing. Reports are only
 * ever added: of several on one part of one job the last counts.
 */
export const outcomeReport = z.strictObject(keys).check(reasonCheck);
export type OutcomeReport = z.infer<typeof outcomeReport>;

/** A report as it is kept, with the kind of machine the job had when it was made. */
export const partOutcome = z.strictObject({ ...keys, machineKind: text.optional() }).check(reasonCheck);
export type PartOutcome = z.infer<typeof partOutcome>;

/**
 * The kind of machine that a job's words name, so that two jobs on alike machines meet: what stands before the first comma, semicolon
 * or bracket, in small letters, only letters and digits, words apart by one space. 'Quay sweeper 2, petrol' and 'quay-sweeper 2' are one
 * kind. Undefined where nothing is left.
 */
export function machineKindOf(machine: string | undefined): string | undefined {
  const [name = ''] = (machine ?? '').normalize('NFKC').split(/[,;([]/u);
  const kind = name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ').trim();
  return kind === '' ? undefined : kind;
}
