import { html, nothing, type TemplateResult } from 'lit';
import type { JobDocument, JsonValue, Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, Desk, WorkSheet } from '../../client/index.ts';
import { formatMoment, valueOf } from '../../format.ts';
import { asLeftWords } from '../../words/as-left.ts';
import { judgeStep, sayCaution, sayDetails, sayNext, sayStep, STEP_WORDS, type AsLeftStep, type JudgedStep, type StepSpeech } from '../../worker/as-left.ts';
import '../entry-field/element.ts';
import '../field-choice/element.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';
import { renderStepPicture } from './step-picture.ts';

type Tick = NonNullable<JobDocument['asLeft']>[string];

const DIMENSIONS = { V: 'voltage', A: 'current', Ω: 'resistance' } as const;

/** One step of the checklist, large: what to do, its drawing, what to mind, and the tick or the reading. */
export class AsLeftStepView extends PlainElement {
  static override properties = {
    step: { attribute: false }, sheet: { attribute: false }, tick: { attribute: false }, speech: { attribute: false }, desk: { attribute: false },
    author: {}, failed: { state: true },
  };
  declare step: AsLeftStep;
  declare sheet: WorkSheet;
  declare tick: Tick | undefined;
  declare speech: StepSpeech;
  declare desk: Desk;
  /** whose name stands beside the next tick; '' when nobody has said */
  declare author: string;
  declare failed: string;

  constructor() {
    super();
    this.author = '';
    this.failed = '';
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('step') && (changed.get('step') as AsLeftStep | undefined)?.id !== this.step.id) this.failed = '';
  }

  protected override render(): TemplateResult {
    const { step, speech, tick } = this;
    const caution = sayCaution(step, speech);
    const judged = judgeStep(step, tick === undefined ? undefined : { [step.id]: tick });
    return html`<div class="step-large" data-mark=${judged.mark}>
      <h2 id="step-title" tabindex="-1">${sayStep(step, speech)}</h2>
      ${step.required ? nothing : html`<p class="quiet">${asLeftWords.optional}</p>`}
      <field-choice .sheet=${this.sheet} .at=${[['asLeft', step.id]]} .unit=${this.desk.settings.values.unit}></field-choice>
      ${caution === undefined ? nothing : html`<p class="caution">${caution}</p>`}
      ${renderStepPicture(step, speech)}
      ${sayDetails(step, speech).map((line) => html`<p>${line}</p>`)}
      ${this.author === '' && judged.mark !== 'done' ? this.#renderWho() : nothing}
      ${judged.because === undefined ? nothing : html`<p class="mark-do">${STEP_WORDS.because[judged.because]}</p>`}
      ${this.#renderTick(judged)}
      ${tick === undefined ? nothing : html`<p class="quiet">${asLeftWords.ticked(formatMoment(tick.at), tick.by ?? '')}</p>`}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}
    </div>`;
  }

  /** Asked once on a device, before its first tick. */
  #renderWho(): TemplateResult {
    return html`<div class="step-who"><entry-field .label=${asLeftWords.whoTicks} .hint=${asLeftWords.whoTicksHint} .value=${''} .commit=${(text: string) => {
      if (text.trim() !== '') this.desk.settings.set({ author: text.trim() });
      this.failed = '';
      return { ok: true };
    }}></entry-field></div>`;
  }

  #renderTick({ mark }: JudgedStep): TemplateResult {
    const { step, tick } = this;
    const takeBack = tick === undefined ? nothing : html`<button type="button" @click=${() => this.#set(null)}>${asLeftWords.takeBack}</button>`;
    const toNext = mark === 'done' ? html`<button type="button" class="main" @click=${() => this.#goOn()}>${asLeftWords.toNext}</button>` : nothing;
    const next = mark === 'bad' ? html`<p class="caution" role="alert"><b>${step.kind === 'reading' ? asLeftWords.outside : asLeftWords.marks.bad}</b> ${asLeftWords.whatNext} ${sayNext(step)}</p>` : nothing;
    switch (step.kind) {
      case 'reading': return html`<quantity-field .label=${asLeftWords.meterShows} .dimension=${DIMENSIONS[step.yardstick.unit]} .value=${tick?.of === step.of ? tick.reading : undefined}
          .commit=${(value: Measured | undefined) => this.#read(value)}></quantity-field>
        ${mark === 'done' ? html`<p class="mark-do" role="status">${asLeftWords.within}</p>` : next}
        <p class="button-row">${toNext}${takeBack}</p>`;
      case 'studs-open': case 'cranks': case 'running': case 'interlock': return html`<p class="button-row">
        <button type="button" class=${mark === 'open' ? 'main' : ''} aria-pressed=${mark === 'done' ? 'true' : 'false'} @click=${() => this.#judge('good')}>${asLeftWords.good[step.kind]}</button>
        <button type="button" aria-pressed=${mark === 'bad' ? 'true' : 'false'} @click=${() => this.#judge('bad')}>${asLeftWords.bad[step.kind]}</button>${takeBack}</p>
        ${next}`;
      case 'battery-off': case 'remove': case 'make-ready': case 'drill': case 'mount': case 'wire': case 'wire-unplanned': case 'leave-off':
      case 'jumper': case 'battery-on': return html`<p class="button-row">
        ${mark === 'open' ? html`<button type="button" class="main" @click=${() => this.#judge(undefined)}>${asLeftWords.done}</button>` : html`<span class="mark-do">${asLeftWords.isDone}</span>${toNext}`}${takeBack}</p>`;
    }
  }

  #judge(outcome: 'good' | 'bad' | undefined): void {
    const result = this.#set(outcome === undefined ? {} : { outcome });
    if (result.ok && outcome !== 'bad') this.#goOn();
  }

  #goOn(): void {
    this.dispatchEvent(new CustomEvent('step-done', { bubbles: true }));
  }

  #read(value: Measured | undefined): ChangeResult {
    return value === undefined ? (this.tick === undefined ? { ok: true } : this.#set(null)) : this.#set({ reading: valueOf(value) });
  }

  /** Writes the tick with its time, its name and what it was made for, or takes it away. */
  #set(tick: { outcome?: 'good' | 'bad'; reading?: number } | null): ChangeResult {
    const by = this.desk.settings.values.author.trim();
    if (tick !== null && by === '') {
      this.failed = asLeftWords.whoFirst;
      this.querySelector<HTMLInputElement>('.step-who input')?.focus();
      return { ok: false, why: asLeftWords.whoFirst };
    }
    const value: JsonValue = tick === null ? null : { at: this.desk.now().toISOString(), by, of: this.step.of, ...tick };
    const result = this.sheet.change([{ field: ['asLeft', this.step.id], value }]);
    this.failed = result.ok ? '' : result.why;
    return result;
  }
}
customElements.define('as-left-step', AsLeftStepView);
