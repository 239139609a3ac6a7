import { html, nothing, type TemplateResult } from 'lit';
import type { JobDocument, JsonValue, Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, Desk, WorkSheet } from '../../client/index.ts';
import { formatMoment, valueOf } from '../../format.ts';
import { markStep, type AsLeftStep } from '../../screens/as-left/steps.ts';
import { sayCaution, sayDetails, sayStep, type StepSpeech } from '../../screens/as-left/step-words.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';
import { renderStepPicture } from './step-picture.ts';

type Tick = NonNullable<JobDocument['asLeft']>[string];

/** One step of the checklist, large: what to do, its drawing, what to mind, and the tick or the reading. */
export class AsLeftStepView extends PlainElement {
  static override properties = {
    step: { attribute: false }, sheet: { attribute: false }, tick: { attribute: false }, speech: { attribute: false }, desk: { attribute: false },
    failed: { state: true },
  };
  declare step: AsLeftStep;
  declare sheet: WorkSheet;
  declare tick: Tick | undefined;
  declare speech: StepSpeech;
  declare desk: Desk;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
  }

  protected override render(): TemplateResult {
    const { step, speech, tick } = this;
    const caution = sayCaution(step, speech);
    const mark = markStep(step, tick === undefined ? undefined : { [step.id]: tick });
    return html`<div class="step-large" data-mark=${mark}>
      <h2 id="step-title" tabindex="-1">${sayStep(step, speech)}</h2>
      ${step.required ? nothing : html`<p class="quiet">${words.asLeft.optional}</p>`}
      ${caution === undefined ? nothing : html`<p class="caution">${caution}</p>`}
      ${renderStepPicture(step, speech)}
      ${sayDetails(step, speech).map((line) => html`<p>${line}</p>`)}
      ${this.#renderTick(mark)}
      ${tick === undefined ? nothing : html`<p class="quiet">${words.asLeft.ticked(formatMoment(tick.at), tick.by ?? '')}</p>`}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}
    </div>`;
  }

  #renderTick(mark: 'open' | 'done' | 'bad'): TemplateResult {
    const { step, tick } = this;
    const takeBack = tick === undefined ? nothing : html`<button type="button" @click=${() => this.#set(null)}>${words.asLeft.takeBack}</button>`;
    switch (step.kind) {
      case 'reading': return html`<quantity-field .label=${words.asLeft.meterShows} .dimension=${step.yardstick.unit === 'V' ? 'voltage' : 'resistance'} .value=${tick?.reading}
          .commit=${(value: Measured | undefined) => this.#read(value)}></quantity-field>
        ${mark === 'bad' ? html`<p class="caution" role="alert">${words.asLeft.outside}</p>` : mark === 'done' ? html`<p class="mark-do">${words.asLeft.within}</p>` : nothing}
        <p class="button-row">${takeBack}</p>`;
      case 'studs-open': case 'cranks': case 'running': case 'interlock': return html`<p class="button-row">
        <button type="button" class=${mark === 'open' ? 'main' : ''} aria-pressed=${mark === 'done' ? 'true' : 'false'} @click=${() => this.#judge('good')}>${words.asLeft.good[step.kind]}</button>
        <button type="button" aria-pressed=${mark === 'bad' ? 'true' : 'false'} @click=${() => this.#judge('bad')}>${words.asLeft.bad[step.kind]}</button>${takeBack}</p>
        ${mark === 'bad' ? html`<p class="caution" role="alert">${words.asLeft.stop[step.kind]}</p>` : nothing}`;
      case 'battery-off': case 'remove': case 'make-ready': case 'drill': case 'mount': case 'wire': case 'wire-unplanned': case 'leave-off':
      case 'jumper': case 'battery-on': return html`<p class="button-row">
        ${mark === 'open' ? html`<button type="button" class="main" @click=${() => this.#judge(undefined)}>${words.asLeft.done}</button>` : html`<span class="mark-do">${words.asLeft.isDone}</span>`}${takeBack}</p>`;
    }
  }

  #judge(outcome: 'good' | 'bad' | undefined): void {
    const result = this.#set(outcome === undefined ? {} : { outcome });
    if (result.ok && outcome !== 'bad') this.dispatchEvent(new CustomEvent('step-done', { bubbles: true }));
  }

  #read(value: Measured | undefined): ChangeResult {
    return value === undefined ? (this.tick === undefined ? { ok: true } : this.#set(null)) : this.#set({ reading: valueOf(value) });
  }

  /** Writes the tick, or takes it away. A change after the sign-off takes the sign-off back: it was given for another state. */
  #set(tick: { outcome?: 'good' | 'bad'; reading?: number } | null): ChangeResult {
    const { author } = this.desk.settings.values;
    const value: JsonValue = tick === null ? null : { at: this.desk.now().toISOString(), ...(author === '' ? {} : { by: author }), ...tick };
    const result = this.sheet.change([
      { field: ['asLeft', this.step.id], value },
      ...(this.sheet.document.signedOff === undefined ? [] : [{ field: ['signedOff'], value: null }]),
    ]);
    this.failed = result.ok ? '' : result.why;
    return result;
  }
}
customElements.define('as-left-step', AsLeftStepView);
