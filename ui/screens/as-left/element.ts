import { html, nothing, type TemplateResult } from 'lit';
import '../../elements/as-left-sheet/element.ts';
import '../../elements/as-left-step/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import '../../elements/wiring-table/element.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { isChoiceStale } from '../step-states.ts';
import type { WorkView } from '../work-view.ts';
import { findBlocks, makeSteps, markStep, type AsLeftStep } from './steps.ts';
import { sayStep, type StepSpeech } from './step-words.ts';

/** So many open steps are named at once; more stand behind a line that opens. */
const FEW_OPEN = 4;

/** The checklist of the chosen plan: one step large, all of them in a list, sign-off at the end, one sheet on paper. */
export class AsLeftScreen extends PlainElement {
  static override properties = { view: { attribute: false }, openId: { state: true }, failed: { state: true } };
  declare view: WorkView;
  declare openId: string | undefined;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
  }

  protected override render(): TemplateResult {
    const { sheet, desk, base, findings } = this.view;
    const { chosen } = sheet.document;
    if (chosen === undefined) {
      return html`<h1>${words.steps.names['as-left']}</h1><p>${words.asLeft.nothingChosen}</p>
        <p><a class="button main" href="${base}/fits">${words.get.toFits}</a></p>`;
    }
    const part = desk.shop.parts.get(chosen.partId);
    if (part === undefined) {
      return html`<h1>${words.steps.names['as-left']}</h1><p role="status">${desk.shop.parts.isOnItsWay(chosen.partId) ? words.loading : words.fits.notInCatalogue(chosen.partId)}</p>`;
    }
    const fit = findings.fit?.fits.find((entry) => entry.partId === chosen.partId);
    const steps = makeSteps({ record: sheet.record, plan: chosen.plan, part, kit: fit?.kit ?? [], placement: fit?.placement ?? null });
    const speech: StepSpeech = { record: sheet.record, part, unit: desk.settings.values.unit };
    return html`<div class="screen-only">
        <div class="title-row"><h1>${words.steps.names['as-left']}</h1><button type="button" @click=${() => print()}>${words.asLeft.print}</button></div>
        <p>${part.title} <span class="number">${part.id}</span></p>
        ${isChoiceStale(chosen, sheet.record, fit) ? html`<p class="caution">${words.steps.lack({ kind: 'wires-changed-since-chosen' })}
          <a href="${base}/fits/${encodeURIComponent(part.id)}">${words.fits.chooseAgain}</a></p>` : nothing}
        ${this.#renderWork(steps, speech)}
        ${chosen.plan === null ? nothing : html`<section><h2>${words.asLeft.oldAndNew}</h2>
          <wiring-table .record=${sheet.record} .plan=${chosen.plan} .newPart=${part} .unit=${speech.unit}></wiring-table></section>`}
        ${findings.fit === undefined ? html`<p class="quiet" role="status">${words.working}</p>` : this.#renderSignOff(steps, speech, isChoiceStale(chosen, sheet.record, fit))}
      </div>
      <as-left-sheet class="print-only" .document=${sheet.document} .steps=${steps} .plan=${chosen.plan} .speech=${speech}></as-left-sheet>`;
  }

  #renderWork(steps: readonly AsLeftStep[], speech: StepSpeech): TemplateResult {
    const { sheet, desk } = this.view;
    const ticks = sheet.document.asLeft;
    const open = steps.find((step) => step.id === this.openId) ?? steps.find((step) => markStep(step, ticks) === 'open') ?? steps.at(-1)!;
    const index = steps.indexOf(open);
    const done = steps.filter((step) => markStep(step, ticks) === 'done').length;
    return html`<div class="as-left">
      <div class="as-left-now"><p class="quiet">${words.asLeft.stepOf(index + 1, steps.length)}</p>
        <as-left-step .step=${open} .sheet=${sheet} .tick=${ticks?.[open.id]} .speech=${speech} .desk=${desk}
          @step-done=${() => this.#goOn(steps, index)}></as-left-step>
        <p class="button-row">${index > 0 ? html`<button type="button" @click=${() => this.#open(steps[index - 1]!.id)}>${words.asLeft.previous}</button>` : nothing}
          ${index < steps.length - 1 ? html`<button type="button" @click=${() => this.#open(steps[index + 1]!.id)}>${words.asLeft.next}</button>` : nothing}</p></div>
      <div><h2>${words.asLeft.allSteps(done, steps.length)}</h2><ol class="step-list">${steps.map((step) => {
        const mark = markStep(step, ticks);
        return html`<li><button type="button" aria-current=${step === open ? 'step' : 'false'} data-mark=${mark} @click=${() => this.#open(step.id)}>
          <span class="step-mark">${words.asLeft.marks[mark]}</span><span>${sayStep(step, speech)}</span></button></li>`;
      })}</ol></div></div>`;
  }

  #renderSignOff(steps: readonly AsLeftStep[], speech: StepSpeech, stale: boolean): TemplateResult {
    const { sheet, base } = this.view;
    const { signedOff } = sheet.document;
    const blocks = findBlocks(steps, sheet.record, sheet.document.asLeft);
    const free = blocks.open.length === 0 && blocks.bad.length === 0 && !blocks.noInterlockList && !stale;
    return html`<section class="sign-off"><h2>${words.asLeft.signOff}</h2>
      <p class="caution">${words.asLeft.cautionRelease}</p>
      ${signedOff !== undefined ? html`<p class="mark-do">${words.asLeft.signedBy(signedOff.by, formatMoment(signedOff.at))}</p>
        <p><a class="button" href="${base}/record">${words.asLeft.toRecord}</a></p>`
      : free ? html`<form class="field" @submit=${(event: SubmitEvent) => { event.preventDefault(); this.#sign(event.target as HTMLFormElement); }}>
          <label for="signed-by">${words.asLeft.signName}</label>
          <span class="field-row"><input id="signed-by" name="by" maxlength="100" autocomplete="name" .value=${this.view.desk.settings.values.author}>
          <button type="submit" class="main">${words.asLeft.sign}</button></span>
          <small class="not" aria-live="polite">${this.failed}</small></form>`
        : html`<p>${words.asLeft.notYetSigned}</p><ul>
          ${stale ? html`<li>${words.steps.lack({ kind: 'wires-changed-since-chosen' })}</li>` : nothing}
          ${blocks.noInterlockList ? html`<li><a href="${base}/bench">${words.asLeft.listInterlocks}</a></li>` : nothing}
          ${blocks.bad.map((step) => this.#renderBlock(step, words.asLeft.wentWrong(sayStep(step, speech))))}</ul>
          ${blocks.open.length === 0 ? nothing : html`<details ?open=${blocks.open.length <= FEW_OPEN}><summary>${words.asLeft.stillOpen(blocks.open.length)}</summary>
            <ul>${blocks.open.map((step) => this.#renderBlock(step, sayStep(step, speech)))}</ul></details>`}`}
    </section>`;
  }

  #renderBlock(step: AsLeftStep, said: string): TemplateResult {
    return html`<li><button type="button" class="plain" @click=${() => this.#open(step.id)}>${said}</button></li>`;
  }

  #goOn(steps: readonly AsLeftStep[], from: number): void {
    const ticks = this.view.sheet.document.asLeft;
    const next = steps.slice(from + 1).find((step) => markStep(step, ticks) === 'open') ?? steps.find((step) => markStep(step, ticks) === 'open');
    if (next !== undefined) this.#open(next.id);
  }

  #open(id: string): void {
    this.openId = id;
    void this.updateComplete.then(() => {
      const title = this.querySelector<HTMLElement>('#step-title');
      title?.focus({ preventScroll: true });
      title?.scrollIntoView({ block: 'nearest' });
    });
  }

  #sign(form: HTMLFormElement): void {
    const by = String(new FormData(form).get('by') ?? '').trim();
    if (by === '') { this.failed = words.asLeft.nameMissing; return; }
    const result = this.view.sheet.change([{ field: ['signedOff'], value: { at: this.view.desk.now().toISOString(), by } }]);
    this.failed = result.ok ? '' : result.why;
  }
}
customElements.define('as-left-screen', AsLeftScreen);
