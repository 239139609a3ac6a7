import { html, nothing, type TemplateResult } from 'lit';
import type { Desk, WaitingItem } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { sayWaiting } from './say-waiting.ts';
import './waiting-line.css';

/** One thing that waits to be sent: what, since when, and what the server said to it; a no can be tried again or given up. */
export class WaitingLine extends PlainElement {
  static override properties = { desk: { attribute: false }, item: { attribute: false }, of: {}, asking: { state: true } };
  declare desk: Desk;
  declare item: WaitingItem;
  /** the job's name, where the line does not stand in the job itself */
  declare of: string | undefined;
  declare asking: boolean;

  constructor() {
    super();
    this.asking = false;
    // A part's name may come later than the line.
    followChanges(this, () => [this.desk?.shop]);
  }

  protected override render(): TemplateResult {
    const { item, of, desk } = this;
    const { answer } = item;
    const isNo = answer !== undefined && answer.kind !== 'failed';
    return html`<div class="waiting-line"><p><b>${sayWaiting(item, (id) => desk.shop.parts.get(id)?.title ?? id)}</b>${of === undefined ? nothing : html`<br>${of}`}
        <br><small>${isNo ? nothing : html`${words.offline.waits}, `}${words.offline.since(formatMoment(item.since))}</small></p>
      ${answer === undefined ? nothing : html`<p class=${isNo ? 'not' : 'mark-do'} role=${isNo ? 'alert' : 'status'}>${words.offline.serverSaid}: ${answer.words === '' ? words.offline.answers[answer.kind] : answer.words}</p>`}
      ${isNo ? this.#renderWays() : nothing}</div>`;
  }

  #renderWays(): TemplateResult {
    const { key } = this.item;
    if (this.asking) {
      return html`<p>${words.offline.dropWhat}</p><p class="button-row">
        <button type="button" @click=${() => { this.asking = false; void this.desk.device.drop(key); }}>${words.offline.dropSure}</button>
        <button type="button" class="main" @click=${() => { this.asking = false; }}>${words.offline.dropKeep}</button></p>`;
    }
    return html`<p class="button-row"><button type="button" @click=${() => { void this.desk.device.tryAgain(key); }}>${words.offline.tryAgain}</button>
      <button type="button" @click=${() => { this.asking = true; }}>${words.offline.drop}</button></p>`;
  }
}
customElements.define('waiting-line', WaitingLine);
