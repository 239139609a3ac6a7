import { html, nothing, type TemplateResult } from 'lit';
import type { JobDocument, Plan } from '../../../catalog-schema/index.ts';
import { formatMoment, formatNumber } from '../../format.ts';
import { asLeftWords } from '../../words/as-left.ts';
import { judgeStep, sayLimit, sayStep, sayTorque, stateOfSignOff, STEP_WORDS, type AsLeftStep, type StepSpeech } from '../../worker/as-left.ts';
import { PlainElement } from '../plain-element.ts';
import '../wiring-table/element.ts';

/** The whole checklist on one sheet of paper: old and new wiring, every step with its box, limits, torques, sign-off. */
export class AsLeftSheet extends PlainElement {
  static override properties = {
    document: { attribute: false }, steps: { attribute: false }, plan: { attribute: false }, speech: { attribute: false },
  };
  declare document: JobDocument;
  declare steps: readonly AsLeftStep[];
  declare plan: Plan | null;
  declare speech: StepSpeech;

  protected override render(): TemplateResult {
    const { document, speech, plan } = this;
    const torques = [...new Set(this.steps.flatMap((step) => (step.kind === 'wire' && step.torque !== null ? [sayTorque(step.torque)] : [])))];
    return html`<header class="sheet-head"><h1>${asLeftWords.sheetTitle}</h1>
        <p><b>${document.title}</b>${document.machine === undefined ? nothing : html` · ${document.machine}`}${document.customer === undefined ? nothing : html` · ${document.customer}`}</p>
        <p>${asLeftWords.newPart} <b>${speech.part.title}</b> <span class="number">${speech.part.id}</span></p></header>
      ${plan === null ? nothing : html`<wiring-table .record=${speech.record} .plan=${plan} .newPart=${speech.part} .unit=${speech.unit}></wiring-table>`}
      <ol class="sheet-steps">${this.steps.map((step) => this.#renderStep(step))}</ol>
      ${torques.length === 0 ? nothing : html`<p class="sheet-notes">${STEP_WORDS.stack} ${torques.join(' ')}</p>`}
      <p class="sheet-notes">${STEP_WORDS.sheet.cautions}</p>
      <p class="sheet-sign">${this.#saySignOff()}</p>`;
  }

  #renderStep(step: AsLeftStep): TemplateResult {
    const tick = this.document.asLeft?.[step.id];
    const { mark } = judgeStep(step, this.document.asLeft);
    return html`<li><span class="box" data-mark=${mark}>${mark === 'done' ? '✓' : mark === 'bad' ? '✗' : ''}</span>
      <span>${sayStep(step, this.speech)}${step.required ? nothing : ` (${asLeftWords.optional})`}
      ${step.kind === 'reading' ? html`<small>${sayLimit(step.yardstick)} <b>${mark === 'open' || tick?.reading === undefined ? '________' : formatNumber(tick.reading, 3)} ${step.yardstick.unit}</b></small>` : nothing}
      ${mark === 'open' || tick === undefined ? nothing : html`<small>${asLeftWords.ticked(formatMoment(tick.at), tick.by ?? '')}</small>`}</span></li>`;
  }

  #saySignOff(): string {
    const { signedOff } = this.document;
    if (signedOff === undefined) return STEP_WORDS.sheet.notSigned;
    return stateOfSignOff(this.document) === 'stands' ? asLeftWords.signedBy(signedOff.by, formatMoment(signedOff.at)) : asLeftWords.lapsed(signedOff.by, formatMoment(signedOff.at));
  }
}
customElements.define('as-left-sheet', AsLeftSheet);
