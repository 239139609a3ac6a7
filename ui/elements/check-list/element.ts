import { html, nothing, type TemplateResult } from 'lit';
import type { Check } from '../../../catalog-schema/index.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { PlainElement } from '../plain-element.ts';
import { sayCheckWhy } from '../say-why.ts';

const ORDER: readonly Check['outcome'][] = ['fail', 'unknown', 'work', 'pass'];

/** Every check of a fit with what was needed, what is offered and why; what went wrong first. */
export class CheckList extends PlainElement {
  static override properties = { checks: { attribute: false } };
  declare checks: readonly Check[];

  protected override render(): TemplateResult {
    const sorted = ORDER.flatMap((outcome) => this.checks.filter((check) => check.outcome === outcome));
    return html`<ul class="checks">${sorted.map((check) => html`<li data-outcome=${check.outcome}>
      <h3>${words.criteria[check.criterion]} <span class="outcome outcome-${check.outcome}">${fitsWords.outcomes[check.outcome]}</span>
        ${check.safety && check.outcome !== 'pass' ? html`<small>${fitsWords.safety}</small>` : nothing}</h3>
      <dl><div><dt>${fitsWords.needed}</dt><dd>${check.needed}</dd></div><div><dt>${fitsWords.offered}</dt><dd>${check.offered}</dd></div></dl>
      ${check.why === '' ? nothing : html`<p>${sayCheckWhy(check.why)}</p>`}</li>`)}</ul>`;
  }
}
customElements.define('check-list', CheckList);
