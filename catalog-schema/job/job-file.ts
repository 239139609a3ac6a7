import { z } from 'zod';
import { readInput, type InputFault, type Read } from '../input-fault.ts';
import { LIMITS } from '../limits.ts';
import { partSchema } from '../part.ts';
import { wholeAboveZero, wholeZeroOrMore } from '../scalar.ts';
import { partOutcome } from '../shop/outcome.ts';
import { orderLine, reservation } from '../shop/shop.ts';
import { jobState } from './job-document.ts';
import { loggedEdit } from './job-edit.ts';
import { photographHash } from './job-photograph.ts';

export const JOB_FILE_FORMAT = 'lugwright-job';
export const JOB_FILE_VERSION = 1;
/** As HTTP names it; a name of our own. */
export const JOB_FILE_TYPE = 'application/vnd.lugwright.job+json';

/** A photograph in a job file, whole. */
export const filedPhotograph = z.strictObject({
  hash: photographHash,
  at: z.iso.datetime(),
  /** the picture's bytes in base64 (RFC 4648, section 4); their SHA-256 is `hash`, and they say themselves what kind of picture they are */
  data: z.string().meta({ contentEncoding: 'base64' }),
});
export type FiledPhotograph = z.infer<typeof filedPhotograph>;

/** What goes with a job and is not its log: as it was in the shop that the file comes from. */
const beside = {
  /** the chosen part as that shop's catalogue had it */
  part: partSchema.optional(),
  outcomes: z.array(partOutcome).max(LIMITS.jobFileEntries),
  /** units put aside and lines ordered there: a shop that takes the job in keeps them as notes, and puts nothing aside for them */
  reservations: z.array(reservation).max(LIMITS.jobFileEntries),
  orderLines: z.array(orderLine).max(LIMITS.jobFileEntries),
};

/** What came with a job from another shop and is only handed on. */
export const carriedWithJob = z.strictObject(beside);
export type CarriedWithJob = z.infer<typeof carriedWithJob>;

/**
 * A job in one file, whole. The log is the job: what it adds up to, held edits among it, follows from its edits in their order.
 * Photographs stand last, so that a file of any size is written and read in one pass.
 */
export const jobFile = z.strictObject({
  format: z.literal(JOB_FILE_FORMAT), version: z.literal(JOB_FILE_VERSION),
  exportedAt: z.iso.datetime(),
  id: z.uuid(),
  /** how many edits there are: a file that lost one says so */
  revision: wholeAboveZero,
  /** every edit in the order in which it counts */
  edits: z.array(loggedEdit).min(1).max(LIMITS.jobFileEdits),
  ...beside,
  photographs: z.array(filedPhotograph).max(LIMITS.jobFileEntries),
});
export type JobFile = z.infer<typeof jobFile>;

/** Reads a job file: its shape, and that everything in it is this job's and there once. What the edits add up to is read where they are taken in. */
export function readJobFile(value: unknown): Read<JobFile> {
  const read = readInput(jobFile, value);
  if (!read.ok) return read;
  const { id, edits, photographs, outcomes, reservations, orderLines } = read.value;
  const faults: InputFault[] = [];
  const findTwice = (list: string, key: string, values: readonly string[]): void => {
    const seen = new Set<string>();
    values.forEach((each, index) => {
      if (seen.has(each)) faults.push({ path: `${list}[${index}].${key}`, found: JSON.stringify(each), want: 'one that is not used twice' });
      seen.add(each);
    });
  };
  if (read.value.revision !== edits.length) faults.push({ path: 'revision', found: String(read.value.revision), want: `${edits.length}, as many edits as there are` });
  findTwice('edits', 'id', edits.map((edit) => edit.id));
  findTwice('photographs', 'hash', photographs.map((photograph) => photograph.hash));
  for (const [list, entries] of Object.entries({ outcomes, reservations, orderLines })) {
    findTwice(list, 'id', entries.map((entry) => entry.id));
    entries.forEach(({ jobId }, index) => {
      if (jobId !== id) faults.push({ path: `${list}[${index}].jobId`, found: JSON.stringify(jobId ?? null), want: `${JSON.stringify(id)}, the job of the file` });
    });
  }
  return faults.length > 0 ? { ok: false, faults } : read;
}

/** What taking a job file in came to. */
export const jobImport = z.strictObject({
  /** false: the job was there already, and what was new in the file came to it */
  created: z.boolean(),
  editsAdded: wholeZeroOrMore, photographsAdded: wholeZeroOrMore,
  job: jobState,
});
export type JobImport = z.infer<typeof jobImport>;

/** The name of a job's file: its title in letters that every system takes. */
export function nameJobFile(title: string, id: string): string {
  const plain = title.normalize('NFKD').replace(/[^\p{ASCII}]/gu, '').toLowerCase().replace(/[^a-z\d]+/g, '-').replace(/^-|-$/g, '').slice(0, 60).replace(/-$/, '');
  return `${plain === '' ? 'job' : plain}-${id.slice(0, 8)}.job.json`;
}
