import { html, type TemplateResult } from 'lit';
import { PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';

/** What Prove cannot do yet, in words, and what to do meanwhile. */
export class ProveScreen extends PlainElement {
  static override properties = { view: { attribute: false } };
  declare view: WorkView;

  protected override render(): TemplateResult {
    return html`<h1>${words.steps.names.prove}</h1>
      <p>${words.prove.notYet}</p>
      <h2>${words.prove.meanwhile}</h2>
      <ol>${words.prove.order.map((line) => html`<li><p>${line}</p></li>`)}</ol>
      <p class="caution">${words.prove.caution}</p>`;
  }
}
customElements.define('prove-screen', ProveScreen);
