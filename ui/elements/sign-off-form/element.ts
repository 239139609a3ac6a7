import { html, nothing, type TemplateResult } from 'lit';
import type { SignOffBlock } from '../../../catalog-schema/index.ts';
import { formatMoment } from '../../format.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { words } from '../../words.ts';
import { asLeftWords } from '../../words/as-left.ts';
import { findSignOffBlocks, fingerprintWork, stateOfSignOff, type AsLeftFacts } from '../../worker/as-left.ts';
import '../field-choice/element.ts';
import { PlainElement } from '../plain-element.ts';

/** So many open steps are named at once; more stand behind a line that opens. */
const FEW_OPEN = 4;

/** What is open before the machine may be released, and the name under it once nothing is. Asks for a step by an event 'open-step' with its id. */
export class SignOffForm extends PlainElement {
  static override properties = { view: { attribute: false }, facts: { attribute: false }, failed: { state: true } };
  declare view: WorkView;
  declare facts: AsLeftFacts;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
  }

  protected override render(): TemplateResult {
    const { document } = this.facts;
    const state = stateOfSignOff(document);
    const { signedOff } = document;
    return html`<section class="sign-off"><h2 id="sign-off-title" tabindex="-1">${asLeftWords.signOff}</h2>
      <p class="caution">${asLeftWords.cautionRelease}</p>
      ${signedOff === undefined ? nothing : state === 'stands' ? html`<p class="mark-do">${asLeftWords.signedBy(signedOff.by, formatMoment(signedOff.at))}</p>
        <p><a class="button" href="${this.view.base}/record">${asLeftWords.toRecord}</a></p>`
        : html`<p class="caution">${asLeftWords.lapsed(signedOff.by, formatMoment(signedOff.at))}</p>`}
      ${state === 'stands' ? nothing : this.#renderRest(state === 'lapsed')}</section>`;
  }

  #renderRest(again: boolean): TemplateResult {
    const { sheet, desk } = this.view;
    if (sheet.conflicts.length > 0) {
      return html`<p>${asLeftWords.notYetSigned}</p><p class="mark-do">${words.conflicts.waiting(sheet.conflicts.length)}</p>
        <field-choice .sheet=${sheet} .at=${[['signedOff']]} .unit=${desk.settings.values.unit}></field-choice>`;
    }
    const blocks = findSignOffBlocks(this.facts);
    if (blocks.length > 0) return this.#renderBlocks(blocks);
    return html`<form class="field" @submit=${(event: SubmitEvent) => { event.preventDefault(); this.#sign(event.target as HTMLFormElement); }}>
      <label for="signed-by">${asLeftWords.signName}</label>
      <span class="field-row"><input id="signed-by" name="by" maxlength="100" autocomplete="name" .value=${this.view.desk.settings.values.author}>
      <button type="submit" class="main">${again ? asLeftWords.signAgain : asLeftWords.sign}</button></span>
      <small class="not" aria-live="polite">${this.failed}</small></form>`;
  }

  /** What went wrong and what is wrong with the choice first, in full; of the steps that are merely open a few. */
  #renderBlocks(blocks: readonly SignOffBlock[]): TemplateResult {
    const open = blocks.filter((block) => block.step !== null && this.#isOpen(block.step));
    const rest = blocks.filter((block) => !open.includes(block));
    return html`<p>${asLeftWords.notYetSigned}</p>
      ${rest.length === 0 ? nothing : html`<ul>${rest.map((block) => html`<li>${this.#renderBlock(block)}</li>`)}</ul>`}
      ${open.length === 0 ? nothing : html`<details ?open=${open.length <= FEW_OPEN}><summary>${asLeftWords.stillOpen(open.length)}</summary>
        <ul>${open.map((block) => html`<li>${this.#renderBlock(block)}</li>`)}</ul></details>`}`;
  }

  #renderBlock(block: SignOffBlock): TemplateResult {
    const { base } = this.view;
    const { step } = block;
    if (step !== null) {
      const why = block.found === 'nothing' ? nothing : html` <span class="not">(${block.found})</span>`;
      return html`<button type="button" class="plain" @click=${() => this.dispatchEvent(new CustomEvent('open-step', { detail: step, bubbles: true }))}>${block.says}${why}</button>`;
    }
    if (block.path.startsWith('record.')) return html`<span>${block.says}. <a href="${base}/bench">${asLeftWords.toBench}</a></span>`;
    if (block.path.startsWith('chosen')) return html`<span>${block.says}. <a href="${base}/fits">${asLeftWords.toFits}</a></span>`;
    return html`<span>${block.says}</span>`;
  }

  /** Merely open: nobody has ticked it. */
  #isOpen(step: string): boolean {
    return this.facts.document.asLeft?.[step] === undefined;
  }

  #sign(form: HTMLFormElement): void {
    const by = String(new FormData(form).get('by') ?? '').trim();
    if (by === '') { this.failed = asLeftWords.nameMissing; return; }
    const { sheet, desk } = this.view;
    const result = sheet.change([{ field: ['signedOff'], value: { at: desk.now().toISOString(), by, of: fingerprintWork(sheet.document) } }]);
    this.failed = result.ok ? '' : result.why;
  }
}
customElements.define('sign-off-form', SignOffForm);
