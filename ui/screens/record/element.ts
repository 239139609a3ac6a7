import { html, type TemplateResult } from 'lit';
import { PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';

export class RecordScreen extends PlainElement {
  static override properties = { view: { attribute: false } };
  declare view: WorkView;
  protected override render(): TemplateResult { return html`<h1>${words.steps.names['record']}</h1><lack-list .lacks=${this.view.reports['record'].lacks} .fit=${this.view.findings.fit}></lack-list>`; }
}
customElements.define('record-screen', RecordScreen);
