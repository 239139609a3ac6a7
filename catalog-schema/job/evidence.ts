import { z } from 'zod';
import type { ProveAnswer } from '../answer.ts';
import { FAULT_CLAUSES, ORDERABLE_WORDS } from '../crank-words.ts';
import type { Part } from '../part.ts';
import { crankFault } from '../prove-case.ts';
import { text } from '../scalar.ts';
import type { JobProof } from './job-proof.ts';

/** What a job's evidence says of a part that is ordered or put on it. */
export const evidence = z.strictObject({
  /** the fault that pays for this part; null: not proven */
  proven: crankFault.nullable(),
  /** the evidence pays for this part */
  orderable: z.boolean(),
  /** one sentence to print: 'Proven: …' or 'Not proven: …' */
  words: text,
  /** the test that would settle it; null where it is proven, or another fault has to be mended first */
  settles: text.nullable(),
});
export type Evidence = z.infer<typeof evidence>;

type Orderable = NonNullable<ProveAnswer['orderable']>;

const PAYS_FOR: Readonly<Record<Part['partClass'], Orderable>> = {
  'start-relay': 'start-relay', contactor: 'start-relay', 'plug-in-relay': 'start-relay', 'shift-solenoid': 'start-relay', 'starter-motor': 'starter',
};

/** The reading that says most about a part where nothing has been weighed yet (common practice, no source). */
const FIRST_TEST: Readonly<Record<Orderable, string>> = {
  'start-relay': 'Volts across the two heavy studs of the relay, START held',
  starter: 'Volts across the starter, stud to case, START held',
  battery: 'Volts across the battery posts, START held',
  cable: 'Volts from end to end of the cable, START held',
};

/**
 * Whether what was seen on the machine pays for a part of this class, in words. A part without a class: for any part at all.
 * @param answer what `prove` says of the job's case as it stands; undefined where nothing was seen, or there is no answer yet
 */
export function evidenceOf({ prove }: { readonly prove?: JobProof | undefined }, answer: ProveAnswer | undefined, partClass?: Part['partClass']): Evidence {
  const wanted = partClass === undefined ? undefined : PAYS_FOR[partClass];
  const count = Object.keys(prove?.seen ?? {}).length;
  const open = (why: string, settles: string | null): Evidence => ({ proven: null, orderable: false, words: `Not proven: ${why}.`, settles });
  if (count > 0 && answer === undefined) return open('what was seen has not been weighed yet', FIRST_TEST[wanted ?? 'start-relay']);
  if (answer === undefined || count === 0) return open('nothing was measured on the machine that shows what failed', FIRST_TEST[wanted ?? 'start-relay']);
  const { proven, orderable, conflicts, faults, nextTest } = answer;
  if (proven !== null) {
    if (orderable !== null && (wanted === undefined || wanted === orderable)) {
      return { proven, orderable: true, words: `Proven: ${FAULT_CLAUSES[proven]}.`, settles: null };
    }
    if (proven === 'none') return open('the machine cranked as it should when it was tested', null);
    const pays = orderable === null ? 'which no part of this kind mends' : `which pays for ${ORDERABLE_WORDS[orderable]}`;
    return open(`the readings prove something else: ${FAULT_CLAUSES[proven]}, ${pays}. Mend that and test again`, null);
  }
  const settles = nextTest[0]?.test ?? null;
  if (conflicts.length > 0) return open('the readings contradict one another, or more than one thing failed', settles);
  const [first] = faults;
  const likely = first === undefined || first.fault === 'none' ? '' : `; most likely ${FAULT_CLAUSES[first.fault]} (${sayShare(first.probability)})`;
  return open(`${count === 1 ? 'one thing was' : `${count} things were`} seen, not enough${likely}`, settles);
}

/** A probability in per cent; never 0 or 100 where it is neither. */
export function sayShare(share: number): string {
  const percent = Math.round(share * 100);
  return share > 0.995 && share < 1 ? 'over 99 %' : percent === 0 && share > 0 ? 'under 1 %' : `${percent} %`;
}
