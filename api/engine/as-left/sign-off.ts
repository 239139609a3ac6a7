import { printQuantity, type BenchRecord, type JobDocument, type Part, type Plan, type SignOffBlock } from '../../../catalog-schema/index.ts';
import type { AsLeftBasis } from './basis.ts';
import { findChosenPlan, isChoiceStale } from './choice.ts';
import { judgeStep, type JudgedStep } from './judge-step.ts';
import { makeSteps } from './make-steps.ts';
import { sayStep, type StepSpeech } from './say-step.ts';
import type { AsLeftStep } from './step.ts';
import { STEP_WORDS } from './words.ts';

/** What a job's checklist and its sign-off stand on. */
export interface AsLeftFacts {
  readonly document: JobDocument;
  readonly record: BenchRecord;
  /** the chosen part as the catalogue has it; undefined where it has none of that id */
  readonly part: Part | undefined;
  /** what the engine finds of it now; undefined where it has not answered yet */
  readonly basis: AsLeftBasis | undefined;
  /** fields that hold two values until a person chooses */
  readonly conflicts: number;
  readonly unit: StepSpeech['unit'];
}

export interface Checklist {
  readonly steps: readonly AsLeftStep[];
  /** the wiring that the steps follow: the engine's own where the chosen one is right */
  readonly plan: Plan | null;
}

/** The checklist of a job as it stands; no steps where no part is chosen, or none that the catalogue has. */
export function makeChecklist({ document, record, part, basis }: Omit<AsLeftFacts, 'conflicts' | 'unit'>): Checklist {
  const { chosen } = document;
  if (chosen === undefined || part === undefined) return { steps: [], plan: null };
  const found = basis?.partId === chosen.partId ? basis : undefined;
  // The stored plan says where the wires go; what it does in each state is the engine's to say, so that no edit of it hides a test.
  const plan = (found && findChosenPlan(chosen, found)) ?? chosen.plan;
  return { steps: makeSteps({ record, plan, part, kit: found?.kit ?? [], placement: found?.placement ?? null }), plan };
}

/**
 * Everything that stands between a job and its sign-off, one block each: a missing or stale choice, a coil without a known wiring, fields with two values, interlocks
 * nobody listed, required steps that are open, steps that went wrong. Empty: it may be signed.
 */
export function findSignOffBlocks(facts: AsLeftFacts): SignOffBlock[] {
  const { document, record, part, basis, conflicts, unit } = facts;
  const words = STEP_WORDS.block;
  const blocks: SignOffBlock[] = [];
  const block = (path: string, found: string, says: string, step: string | null = null): void => {
    blocks.push({ path, found, want: says, says, step });
  };
  if (conflicts > 0) block('conflicts', `${conflicts}`, words.conflicts(conflicts));
  const { chosen, asLeft } = document;
  if (chosen === undefined) {
    block('chosen', 'nothing', words.nothingChosen);
    return blocks;
  }
  if (part === undefined) {
    block('chosen.partId', JSON.stringify(chosen.partId), words.notInCatalogue(chosen.partId));
    return blocks;
  }
  if (basis === undefined || basis.partId !== chosen.partId) block('chosen', JSON.stringify(chosen.partId), words.working);
  else if (basis.verdict === 'no') block('chosen', JSON.stringify(chosen.partId), words.noLongerFits);
  if (isChoiceStale(chosen, record, basis)) block('chosen.plan', 'a wiring that is not of these wires and this part', words.stale);
  else if (chosen.plan === null && basis !== undefined && part.circuit.some(({ kind }) => kind === 'coil')) block('chosen.plan', 'nothing', sayUnwired(record));
  for (const says of findUnlistedInterlocks(record)) block('record.system.interlockList', describeList(record), says);

  const speech = { record, part, unit };
  for (const step of makeChecklist(facts).steps) {
    const judged = judgeStep(step, asLeft);
    if (judged.mark === 'bad' || (judged.mark === 'open' && step.required)) {
      block(`asLeft.${step.id}`, describeFound(step, judged, document), sayStep(step, speech), step.id);
    }
  }
  return blocks;
}

/** Why a part with a coil has no wiring that anybody could have followed. */
function sayUnwired({ wires = [] }: BenchRecord): string {
  if (wires.length === 0) return STEP_WORDS.block.noWires;
  const open = wires.filter(({ leadsTo = 'unknown' }) => leadsTo === 'unknown').map(({ tag }) => tag);
  return open.length === 0 ? STEP_WORDS.block.noWiring : STEP_WORDS.block.untraced(STEP_WORDS.list(open));
}

/** What is wrong with the list of interlocks itself: there is none, or it names none of those that the record speaks of. */
function findUnlistedInterlocks({ system, wires = [] }: BenchRecord): string[] {
  const { interlockList: list, interlocks } = system;
  if (list === undefined) return [STEP_WORDS.block.noList];
  const inReturn = interlocks === 'in-return' || interlocks === 'both' || wires.some(({ leadsTo }) => leadsTo === 'interlocked-return');
  const inFeed = interlocks === 'in-feed' || interlocks === 'both';
  return [
    ...(inReturn && !list.some(({ acts }) => acts === 'return') ? [STEP_WORDS.block.unlisted.return] : []),
    ...(inFeed && !list.some(({ acts }) => acts === 'feed') ? [STEP_WORDS.block.unlisted.feed] : []),
  ];
}

function describeList({ system: { interlockList } }: BenchRecord): string {
  return interlockList === undefined ? 'nothing' : JSON.stringify(interlockList.map(({ name }) => name));
}

function describeFound(step: AsLeftStep, { mark, because }: JudgedStep, { asLeft }: JobDocument): string {
  if (because !== undefined) return STEP_WORDS.because[because];
  if (mark === 'open') return 'nothing';
  return sayBad(step, asLeft?.[step.id]?.reading);
}

/** Why a step is bad: what the meter showed, or that somebody said so. */
export function sayBad(step: AsLeftStep, reading: number | undefined): string {
  return step.kind === 'reading' && reading !== undefined ? STEP_WORDS.outsideLimit(printQuantity(reading, step.yardstick.unit)) : STEP_WORDS.wentWrong;
}
