import { FAULT_CLAUSES, FAULT_NAMES, ORDERABLE_WORDS, sayShare, type Observation, type ProveAnswer } from '../../../catalog-schema/index.ts';
import { words } from '../../words.ts';
import { proveWords } from '../../words/prove.ts';
import { sayInLine } from './say-seen.ts';

/** So many pieces of evidence are named in the sentence. */
const NAMED = 2;

/** The verdict in one sentence, with the evidence that carries it. `carrying`: what was seen that carries it, most first. */
export function sayVerdict(answer: ProveAnswer, carrying: readonly Observation[], anySeen: boolean): string {
  const say = proveWords.verdict;
  const { proven, faults } = answer;
  if (proven === 'none') return say.none;
  if (proven !== null) return say.proven(FAULT_CLAUSES[proven], words.list(carrying.slice(0, NAMED).map(sayInLine)));
  if (!anySeen) return say.nothing;
  const [first, second] = faults;
  if (first === undefined) return say.nothing;
  return say.open(FAULT_CLAUSES[first.fault], sayShare(first.probability), second === undefined || second.probability < 0.05 ? '' : say.second(FAULT_NAMES[second.fault], sayShare(second.probability)));
}

/** What the verdict means for who pays; '' before there is one. */
export function sayConsequence({ proven, orderable }: ProveAnswer): string {
  const say = proveWords.verdict;
  if (proven === null || proven === 'none') return '';
  if (orderable !== null) return say.pays(ORDERABLE_WORDS[orderable]);
  return proven === 'battery-weak' ? say.chargeFirst : proven === 'engine-locked' ? say.freeEngine : say.paysNot;
}
