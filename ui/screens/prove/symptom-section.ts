import { html, type TemplateResult } from 'lit';
import { CRANK_WORDS, HEARD_WORDS, type Observation } from '../../../catalog-schema/index.ts';
import { proveWords } from '../../words/prove.ts';
import { drawCranked, drawHeard } from './symptom-picture.ts';

type Heard = Extract<Observation, { kind: 'sound' }>['heard'];
type Cranked = Extract<Observation, { kind: 'crank' }>['seen'];

export interface SymptomView {
  readonly heard: Heard | undefined;
  readonly cranked: Cranked | undefined;
  /** nobody asked to change them: one line stands for both once both are told */
  readonly folded: boolean;
  readonly tell: (seen: Observation) => void;
  readonly takeBack: (seen: Observation) => void;
  readonly unfold: () => void;
}

const HEARD = Object.keys(HEARD_WORDS) as Heard[];
const CRANKED = Object.keys(CRANK_WORDS) as Cranked[];

/** What is heard and seen at START, a picture and a word each; touched again it is taken back. */
export function renderSymptoms({ heard, cranked, folded, tell, takeBack, unfold }: SymptomView): TemplateResult {
  const say = proveWords;
  if (folded && heard !== undefined && cranked !== undefined) {
    return html`<p class="crank-told"><span>${say.told(HEARD_WORDS[heard], CRANK_WORDS[cranked])}</span>
      <button type="button" class="plain" @click=${unfold}>${say.change}</button></p>`;
  }
  const button = (chosen: boolean, seen: Observation, picture: TemplateResult, word: string): TemplateResult => html`<button type="button" class="symptom-choice" aria-pressed=${chosen ? 'true' : 'false'}
    @click=${() => (chosen ? takeBack : tell)(seen)}>${picture}<span>${word}</span></button>`;
  return html`<section class="symptoms"><h2>${say.symptoms}</h2>
    <p class="caution">${say.startCaution}</p>
    <div role="group" aria-labelledby="heard-title"><p class="field-label" id="heard-title">${say.heard}</p>
      <div class="symptom-row">${HEARD.map((word) => button(word === heard, { kind: 'sound', startSwitch: true, heard: word }, drawHeard(word), HEARD_WORDS[word]))}</div></div>
    <div role="group" aria-labelledby="cranked-title"><p class="field-label" id="cranked-title">${say.cranked}</p>
      <div class="symptom-row">${CRANKED.map((word) => button(word === cranked, { kind: 'crank', startSwitch: true, seen: word }, drawCranked(word), CRANK_WORDS[word]))}</div></div>
  </section>`;
}
