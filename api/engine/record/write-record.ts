import {
  evidenceOf, FAULT_CLAUSES, sayObservation, type CrankFault, type CustomerRecord, type Observation, type ProveAnswer,
} from '../../../catalog-schema/index.ts';
import { answerAsLeft, isSignedOff, type AsLeftFacts, type AsLeftStep } from '../as-left/index.ts';
import { listBench } from './list-bench.ts';
import { RECORD_WORDS as words } from './words.ts';

export interface RecordFacts extends AsLeftFacts {
  /** what `prove` says of the job's case as it stands, and the key of each `seen[i]`; undefined where nothing was seen or there is no answer yet */
  readonly proof: { readonly answer: ProveAnswer; readonly keys: readonly string[] } | undefined;
}

/** Steps of the checklist that show something; what was merely done is not a customer's business. */
const SHOWN: ReadonlySet<string> = new Set<AsLeftStep['kind']>(['studs-open', 'reading', 'cranks', 'running', 'interlock']);

/** What is shown good as a whole only when each of its faults is. */
const WHOLES: Readonly<Record<keyof typeof words.good, readonly CrankFault[]>> = {
  battery: ['battery-weak'], posts: ['battery-connection'], ground: ['ground-connection'], batteryCable: ['battery-cable'], startCable: ['start-cable'],
  relay: ['relay-contacts', 'relay-coil-open', 'relay-stuck-closed'], feed: ['coil-feed'], return: ['coil-return'],
  starter: ['starter-open', 'starter-dragging', 'starter-drive'], engine: ['engine-locked'],
};

/** The customer's page, from what is in the job and nothing else. */
export function writeRecord(facts: RecordFacts): CustomerRecord {
  const { document, record, part, proof, unit } = facts;
  const { title, machine, customer, chosen, prove } = document;
  const asLeft = answerAsLeft(facts);
  const { of: _of, ...released } = asLeft.signOff;
  return {
    title, machine: machine ?? null, customer: customer ?? null,
    found: writeFound(facts),
    measured: listSeen(prove?.seen ?? {}, proof),
    bench: listBench(record, unit),
    replaced: {
      words: chosen === undefined ? words.nothingReplaced : words[isSignedOff(document) ? 'fitted' : 'chosen'](part?.title ?? chosen.title ?? chosen.partId, chosen.partId),
      evidence: chosen === undefined ? null : evidenceOf(document, proof?.answer, part?.partClass),
      wiring: asLeft.wiring.filter(({ work, kind }) => work && kind !== 'bare').map(({ kind, wire, was, now, end }) => (kind === 'jumper' ? `${wire}: ${now}` : was === now ? words.wiring.newEnd(wire, end) : words.wiring.moved(wire, was, now))),
    },
    notNeeded: listNotNeeded(proof?.answer),
    shown: asLeft.steps.filter(({ kind, mark }) => SHOWN.has(kind) && mark !== 'open').map((step) => {
      const good = step.mark === 'done';
      const verdict = good ? words.isGood : words.isBad;
      const figure = step.limit === null || step.tick === null || step.tick.reading === null ? '' : `${Number(step.tick.reading.toFixed(3))} ${step.limit.unit}, `;
      return { what: step.says, showed: `${figure}${verdict}`, good, interlock: step.kind === 'interlock' };
    }),
    released,
  };
}

function writeFound({ document, proof }: RecordFacts): CustomerRecord['found'] {
  const proven = proof?.answer.proven ?? null;
  if (proven === 'none') return { proven: false, words: words.cranks, settles: null };
  if (proven !== null) return { proven: true, words: words.proven(FAULT_CLAUSES[proven]), settles: null };
  const { proved } = document;
  if (proved !== undefined) return { proven: false, words: words.elsewhere(proved.words), settles: null };
  const { words: said, settles } = evidenceOf(document, proof?.answer);
  return { proven: false, words: words.open(said), settles: settles === null ? null : words.settles(settles) };
}

function listSeen(seen: Readonly<Record<string, Observation>>, proof: RecordFacts['proof']): CustomerRecord['measured'] {
  const carrying = new Set((proof?.answer.proven ?? null) === null ? [] : proof!.answer.carriedBy.map(({ path }) => proof!.keys[Number(/\d+/.exec(path)?.[0])]));
  return Object.entries(seen).map(([key, entry]) => ({ ...sayObservation(entry), carries: carrying.has(key) }));
}

function listNotNeeded(answer: ProveAnswer | undefined): string[] {
  const cleared = new Set(answer?.cleared ?? []);
  return (Object.keys(WHOLES) as (keyof typeof WHOLES)[]).filter((whole) => WHOLES[whole].every((fault) => cleared.has(fault))).map((whole) => words.good[whole]);
}
