import { html, type TemplateResult } from 'lit';
import type { Desk } from '../../client/index.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import '../../elements/part-search/element.ts';
import { findPath } from '../../elements/part-search/find-path.ts';
import { words } from '../../words.ts';
import { findWords } from '../../words/find-screen.ts';

/** Looking a part up, from wherever one is. The address holds what was asked, so that going back shows it again. */
export class FindScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, text: {} };
  declare desk: Desk;
  declare text: string;

  protected override render(): TemplateResult {
    return html`<main id="sheet" tabindex="-1"><h1>${words.find.title}</h1><p>${findWords.lead}</p>
      <part-search .desk=${this.desk} .text=${this.text} @part-asked=${(event: CustomEvent<{ text: string }>) => this.desk.go(findPath(event.detail.text))}></part-search></main>`;
  }

  protected override firstUpdated(): void {
    // Whoever comes here without a number types one.
    if (this.text === '') void this.updateComplete.then(() => this.querySelector('input')?.focus());
  }
}
customElements.define('find-screen', FindScreen);
