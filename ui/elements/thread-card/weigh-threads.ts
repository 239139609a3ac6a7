import type { IdentifyAnswer, RecordTerminal } from '../../../catalog-schema/index.ts';
import type { TerminalFigure } from '../measure-target.ts';

type Candidate = IdentifyAnswer['threads'][number]['candidates'][number];

/** From here on a thread counts as told: the others are not worth a line. */
const DECIDED = 0.95;
/** Candidates rarer than this are left out of the card. */
const LEAST_SHOWN = 0.03;
const MOST_SHOWN = 4;

/**
 * The threads worth showing, likeliest first; why they are not decided (undefined where they are): 'twins' of the diameter alone, or
 * 'open' for another reason; and the figure to measure next, undefined where all three are measured.
 */
export function weighThreads(terminal: RecordTerminal, candidates: readonly Candidate[]):
  { likely: Candidate[]; why: 'twins' | 'open' | undefined; measure: TerminalFigure | undefined } {
  const sorted = candidates.toSorted((a, b) => b.probability - a.probability);
  const [first] = sorted;
  if (first === undefined) return { likely: [], why: undefined, measure: undefined };
  if (first.probability >= DECIDED) return { likely: [first], why: undefined, measure: undefined };
  const shown = sorted.filter(({ probability }) => probability >= LEAST_SHOWN).slice(0, MOST_SHOWN);
  const likely = shown.length > 1 ? shown : sorted.slice(0, 2);
  const { majorDiameterMm, pitchMm, nutAcrossFlatsMm } = terminal;
  const measure = pitchMm === undefined ? 'pitchMm' : majorDiameterMm === undefined ? 'majorDiameterMm' : nutAcrossFlatsMm === undefined ? 'nutAcrossFlatsMm' : undefined;
  return { likely, why: likely.length > 1 && majorDiameterMm !== undefined && pitchMm === undefined ? 'twins' : 'open', measure };
}
