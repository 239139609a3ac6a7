import { html, nothing, type TemplateResult } from 'lit';
import { words } from '../../words.ts';
import { JobSheet, type WorkSheet } from '../../client/index.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** One line that says what of a sheet is not sent yet, and Undo. */
export class SendLine extends PlainElement {
  static override properties = { sheet: { attribute: false } };
  declare sheet: WorkSheet;

  constructor() {
    super();
    followChanges(this, () => [this.sheet]);
  }

  protected override render(): TemplateResult {
    const { sheet } = this;
    return html`<div class="send-line">
      <p role="status" class=${sheet.sendState.reached ? 'quiet' : 'mark-do'}>${this.#say()}</p>
      ${sheet instanceof JobSheet && !sheet.sendState.reached
        ? html`<button type="button" class="plain" @click=${() => sheet.sendNow()}>${words.send.sendNow}</button>` : nothing}
      ${sheet.jobId === undefined ? html`<a class="button" href="/start">${words.counter.makeJob}</a>` : nothing}
      <button type="button" ?disabled=${!sheet.canUndo} @click=${() => sheet.undo()}>${words.undo}</button>
    </div>
    ${sheet.sendState.refused === '' ? nothing
      : html`<p class="caution" role="alert">${words.send.refused} ${sheet.sendState.refused}</p>`}`;
  }

  #say(): string {
    const { jobId, sendState } = this.sheet;
    if (jobId === undefined) return words.send.counterSheet;
    if (sendState.waiting === 0) return words.send.allSent;
    return sendState.reached ? words.send.waiting(sendState.waiting) : words.send.stuck(sendState.waiting);
  }
}
customElements.define('send-line', SendLine);
