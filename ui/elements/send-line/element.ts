import { html, nothing, type TemplateResult } from 'lit';
import { words } from '../../words.ts';
import { JobSheet, type WorkSheet } from '../../client/index.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** Says so when what was changed here does not reach the server, or cannot be kept on this device; silent while all goes well. */
export class SendLine extends PlainElement {
  static override properties = { sheet: { attribute: false } };
  declare sheet: WorkSheet;

  constructor() {
    super();
    followChanges(this, () => [this.sheet]);
  }

  protected override render(): TemplateResult {
    const { sheet } = this;
    const said = this.#say();
    return html`<div class="send-line" role="status">
      ${said === '' ? nothing : html`<p class=${sheet.sendState.reached && sheet.sendState.inMemory === 0 ? 'quiet' : 'mark-do'}>${said}</p>`}
      ${sheet instanceof JobSheet && !sheet.sendState.reached && sheet.sendState.waiting > 0
        ? html`<button type="button" @click=${() => sheet.sendNow()}>${words.send.sendNow}</button>` : nothing}
      ${sheet.jobId === undefined ? html`<a class="button" href="/start">${words.counter.makeJob}</a>` : nothing}
    </div>`;
  }

  #say(): string {
    const { jobId, sendState } = this.sheet;
    if (jobId === undefined) return words.send.counterSheet;
    if (sendState.inMemory > 0) return words.send.inMemory(sendState.inMemory);
    return sendState.reached || sendState.waiting === 0 ? '' : words.send.stuck(sendState.waiting);
  }
}
customElements.define('send-line', SendLine);
