import { html, type TemplateResult } from 'lit';
import { PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';

export class AsFoundScreen extends PlainElement {
  static override properties = { view: { attribute: false } };
  declare view: WorkView;
  protected override render(): TemplateResult { return html`<h1>${words.steps.names['as-found']}</h1><lack-list .lacks=${this.view.reports['as-found'].lacks} .fit=${this.view.findings.fit}></lack-list>`; }
}
customElements.define('as-found-screen', AsFoundScreen);
