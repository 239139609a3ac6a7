import { html, type TemplateResult } from 'lit';
import type { BenchRecord, IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { benchWords } from '../../words/bench.ts';
import { targetOf } from '../measure-target.ts';
import { PlainElement } from '../plain-element.ts';
import { sayWhy } from '../say-why.ts';

/**
 * The one line that says what to measure next and why, always in view. Touched, it tells where that is entered by `measure-aim`
 * {target: MeasureTarget}.
 */
export class NextMeasurement extends PlainElement {
  static override properties = { next: { attribute: false }, record: { attribute: false }, working: { type: Boolean } };
  declare next: IdentifyAnswer['measureNext'];
  declare record: BenchRecord;
  declare working: boolean;

  constructor() {
    super();
    this.next = [];
    this.working = false;
  }

  protected override render(): TemplateResult {
    const [entry] = this.next;
    if ((this.record.terminals ?? []).length === 0) return html`<p class="next-line"><b class="next-word">${benchWords.next}</b><span>${benchWords.nextTerminals}</span></p>`;
    if (entry === undefined) return html`<p class="next-line quiet">${this.working ? benchWords.nextWorking : benchWords.nextNothing}</p>`;
    const target = targetOf(entry.what, this.record);
    const said = html`<b class="next-word">${benchWords.next}</b><span><b>${entry.what}</b><small>${sayWhy(entry.why)}</small></span>`;
    return target === undefined ? html`<p class="next-line">${said}</p>` : html`<button type="button" class="next-line"
      @click=${() => this.dispatchEvent(new CustomEvent('measure-aim', { detail: { target }, bubbles: true, composed: true }))}>${said}</button>`;
  }
}
customElements.define('next-measurement', NextMeasurement);
