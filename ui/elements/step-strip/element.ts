import { html, type TemplateResult } from 'lit';
import { words } from '../../words.ts';
import { STEP_NAMES, type StepName, type StepReports } from '../../screens/step-states.ts';
import { PlainElement } from '../plain-element.ts';

/** The seven steps in a row, each a link with its state in words; the one that is open is marked. */
export class StepStrip extends PlainElement {
  static override properties = { reports: { attribute: false }, base: {}, current: {} };
  declare reports: StepReports;
  declare base: string;
  declare current: StepName;

  protected override render(): TemplateResult {
    return html`<nav class="strip" aria-label=${words.steps.label}>
      <ol>${STEP_NAMES.map((step) => {
        const { state } = this.reports[step];
        return html`<li><a href="${this.base}/${step}" data-state=${state} aria-current=${step === this.current ? 'step' : 'false'}>
          <span class="strip-name">${words.steps.names[step]}</span><span class="strip-state">${words.steps.states[state]}</span></a></li>`;
      })}</ol></nav>`;
  }
}
customElements.define('step-strip', StepStrip);
