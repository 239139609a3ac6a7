import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';

export interface Choice<T extends string> {
  readonly value: T;
  readonly label: string | TemplateResult;
  /** a short line under the label */
  readonly hint?: string;
}

/**
 * One of several, each a word that can be touched: radio buttons, so that arrow keys move within the group.
 * `name` must be unique in the page.
 */
export function renderChoices<T extends string>(given: {
  name: string; legend: string; choices: readonly Choice<T>[]; value: T | undefined; onChoose: (value: T) => void; quietLegend?: boolean;
}): TemplateResult {
  return html`<fieldset class="choices">
    <legend class=${given.quietLegend ? 'quiet' : ''}>${given.legend}</legend>
    <div class="choice-row">${given.choices.map((choice) => html`<label class="choice">
      <input type="radio" name=${given.name} value=${choice.value} .checked=${live(choice.value === given.value)}
        @change=${() => given.onChoose(choice.value)}>
      <span>${choice.label}${choice.hint === undefined ? nothing : html`<small>${choice.hint}</small>`}</span>
    </label>`)}</div></fieldset>`;
}
