import { html, nothing, type TemplateResult } from 'lit';
import '../../elements/as-left-sheet/element.ts';
import '../../elements/as-left-step/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import '../../elements/sign-off-form/element.ts';
import '../../elements/wiring-table/element.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { asLeftWords } from '../../words/as-left.ts';
import { isChoiceStale, judgeStep, makeChecklist, sayStep, type AsLeftFacts, type AsLeftStep, type StepSpeech } from '../../worker/as-left.ts';
import type { WorkView } from '../work-view.ts';

/** The checklist of the chosen plan: one step large, all of them in a list, sign-off at the end, one sheet on paper. */
export class AsLeftScreen extends PlainElement {
  static override properties = { view: { attribute: false }, openId: { state: true } };
  declare view: WorkView;
  declare openId: string | undefined;

  protected override render(): TemplateResult {
    const { sheet, desk, base, basis } = this.view;
    const { document, record } = sheet;
    const { chosen } = document;
    if (chosen === undefined) {
      return html`<h1>${words.steps.names['as-left']}</h1><p>${asLeftWords.nothingChosen}</p>
        <p><a class="button main" href="${base}/fits">${words.get.toFits}</a></p>`;
    }
    const part = desk.shop.parts.get(chosen.partId);
    if (part === undefined) {
      return html`<h1>${words.steps.names['as-left']}</h1><p role="status">${desk.shop.parts.isOnItsWay(chosen.partId) ? words.loading : fitsWords.notInCatalogue(chosen.partId)}</p>`;
    }
    // Kit, new holes and the tests of the right plan come with the engine's answer: without it the list would be short of steps.
    if (basis === undefined) {
      return html`<h1>${words.steps.names['as-left']}</h1>${this.view.basisFailed === '' ? html`<p role="status">${words.working}</p>`
        : html`<p class="caution" role="alert">${this.view.basisFailed}</p>`}`;
    }
    const { unit } = desk.settings.values;
    const facts: AsLeftFacts = { document, record, part, basis, conflicts: sheet.conflicts.length, unit };
    const { steps, plan } = makeChecklist(facts);
    const speech: StepSpeech = { record, part, unit };
    return html`<div class="screen-only">
        <div class="title-row"><h1>${words.steps.names['as-left']}</h1><button type="button" @click=${() => print()}>${asLeftWords.print}</button></div>
        <p>${part.title} <span class="number">${part.id}</span></p>
        ${isChoiceStale(chosen, record, basis) ? html`<p class="caution">${words.steps.lack({ kind: 'wires-changed-since-chosen' })}
          <a href="${base}/fits/${encodeURIComponent(part.id)}">${fitsWords.chooseAgain}</a></p>` : nothing}
        ${this.#renderWork(steps, speech)}
        ${plan === null ? nothing : html`<section><h2>${asLeftWords.oldAndNew}</h2>
          <wiring-table .record=${record} .plan=${plan} .newPart=${part} .unit=${unit}></wiring-table></section>`}
        <sign-off-form .view=${this.view} .facts=${facts} @open-step=${(event: CustomEvent<string>) => this.#open(event.detail)}></sign-off-form>
      </div>
      <as-left-sheet class="print-only" .document=${document} .steps=${steps} .plan=${plan} .speech=${speech}></as-left-sheet>`;
  }

  #renderWork(steps: readonly AsLeftStep[], speech: StepSpeech): TemplateResult {
    const { sheet, desk } = this.view;
    const ticks = sheet.document.asLeft;
    const open = steps.find((step) => step.id === this.openId) ?? steps.find((step) => judgeStep(step, ticks).mark === 'open') ?? steps.at(-1)!;
    const index = steps.indexOf(open);
    const done = steps.filter((step) => judgeStep(step, ticks).mark === 'done').length;
    return html`<div class="as-left">
      <div class="as-left-now"><p class="quiet">${asLeftWords.stepOf(index + 1, steps.length)}</p>
        <as-left-step .step=${open} .sheet=${sheet} .tick=${ticks?.[open.id]} .speech=${speech} .desk=${desk} .author=${desk.settings.values.author}
          @step-done=${() => this.#goOn(steps, index)}></as-left-step>
        <p class="button-row">${index > 0 ? html`<button type="button" @click=${() => this.#open(steps[index - 1]!.id)}>${asLeftWords.previous}</button>` : nothing}
          ${index < steps.length - 1 ? html`<button type="button" @click=${() => this.#open(steps[index + 1]!.id)}>${asLeftWords.next}</button>` : nothing}</p></div>
      <div><h2>${asLeftWords.allSteps(done, steps.length)}</h2><ol class="step-list">${steps.map((step) => {
        const { mark } = judgeStep(step, ticks);
        return html`<li><button type="button" aria-current=${step === open ? 'step' : 'false'} data-mark=${mark} @click=${() => this.#open(step.id)}>
          <span class="step-mark">${asLeftWords.marks[mark]}</span><span>${sayStep(step, speech)}</span></button></li>`;
      })}</ol></div></div>`;
  }

  /** To the next open step behind this one, else to the first that is open; with none left to the sign-off. */
  #goOn(steps: readonly AsLeftStep[], from: number): void {
    const isOpen = (step: AsLeftStep): boolean => judgeStep(step, this.view.sheet.document.asLeft).mark === 'open';
    const next = steps.slice(from + 1).find(isOpen) ?? steps.find((step) => step.required && isOpen(step));
    if (next !== undefined) this.#open(next.id);
    else this.#show('#sign-off-title');
  }

  #open(id: string): void {
    this.openId = id;
    this.#show('#step-title');
  }

  #show(selector: string): void {
    void this.updateComplete.then(() => {
      const title = this.querySelector<HTMLElement>(selector);
      title?.focus({ preventScroll: true });
      title?.scrollIntoView({ block: 'nearest' });
    });
  }
}
customElements.define('as-left-screen', AsLeftScreen);
