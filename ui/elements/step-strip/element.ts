import { html, type TemplateResult } from 'lit';
import type { WorkSheet } from '../../client/index.ts';
import { words } from '../../words.ts';
import { STEP_NAMES, type StepName, type StepReports } from '../../screens/step-states.ts';
import { followChanges, PlainElement } from '../plain-element.ts';

/** The seven steps in a row, each a link with its state in words; the open one is marked. Beside them Undo, and what is not sent yet. */
export class StepStrip extends PlainElement {
  static override properties = { sheet: { attribute: false }, reports: { attribute: false }, base: {}, current: {} };
  declare sheet: WorkSheet;
  declare reports: StepReports;
  declare base: string;
  declare current: StepName;

  constructor() {
    super();
    followChanges(this, () => [this.sheet]);
  }

  protected override render(): TemplateResult {
    const { canUndo, jobId, sendState } = this.sheet;
    return html`<div class="strip"><nav aria-label=${words.steps.label}>
      <ol>${STEP_NAMES.map((step) => {
        const { state } = this.reports[step];
        return html`<li><a href="${this.base}/${step}" data-state=${state} aria-current=${step === this.current ? 'step' : 'false'}>
          <span class="strip-name">${words.steps.names[step]}</span><span class="strip-state">${words.steps.states[state]}</span></a></li>`;
      })}</ol></nav>
      <button type="button" class="strip-undo" ?disabled=${!canUndo} @click=${() => this.sheet.undo()}>
        <span class="strip-name">${words.undo}</span><span class="strip-state">${jobId === undefined ? words.send.keptHere
          : sendState.waiting === 0 ? words.send.allSent : words.send.notSent(sendState.waiting)}</span></button></div>`;
  }
}
customElements.define('step-strip', StepStrip);
