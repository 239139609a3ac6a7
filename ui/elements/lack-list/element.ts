import { html, nothing, type TemplateResult } from 'lit';
import type { FitAnswer } from '../../../catalog-schema/index.ts';
import { words } from '../../words.ts';
import { countHanging, criterionOfLack, type Lack } from '../../screens/step-states.ts';
import { PlainElement } from '../plain-element.ts';

/** What a step still lacks, each with how many fits hang on it. Shows nothing when nothing is lacking. */
export class LackList extends PlainElement {
  static override properties = { lacks: { attribute: false }, fit: { attribute: false } };
  declare lacks: readonly Lack[];
  declare fit: FitAnswer | undefined;

  protected override render(): TemplateResult | typeof nothing {
    if (this.lacks.length === 0) return nothing;
    return html`<div class="lacks"><h2>${words.steps.lacksTitle}</h2>
      <ul>${this.#distinct().map((lack) => html`<li>${words.steps.lack(lack)}${this.#renderHanging(lack)}</li>`)}</ul></div>`;
  }

  /** Two steps may lack the same thing: it is said once. */
  #distinct(): readonly Lack[] {
    return [...new Map(this.lacks.map((lack) => [words.steps.lack(lack), lack])).values()];
  }

  #renderHanging(lack: Lack): TemplateResult | typeof nothing {
    const criterion = criterionOfLack(lack);
    if (criterion === undefined) return nothing;
    const { hanging, of } = countHanging(this.fit, criterion);
    return hanging === 0 ? nothing : html`<span class="quiet">: ${words.steps.hang(hanging, of)}</span>`;
  }
}
customElements.define('lack-list', LackList);
