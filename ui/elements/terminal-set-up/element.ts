import { html, type PropertyValues, type TemplateResult } from 'lit';
import type { PartClass, RecordTerminal } from '../../../catalog-schema/index.ts';
import { layTerminals, usualCounts, type SmallPlace, type TerminalCounts } from '../../screens/as-found/terminal-layout.ts';
import { words } from '../../words.ts';
import { renderChoices } from '../choices.ts';
import { PlainElement } from '../plain-element.ts';
import '../terminal-picture/index.ts';

const PLACES: readonly SmallPlace[] = ['above', 'between', 'below'];
const MOST = 6;

/** How many studs and tabs, and where: the drawing follows each tap; one more tap records it. */
export class TerminalSetUp extends PlainElement {
  static override properties = { partClass: {}, draw: { attribute: false }, counts: { state: true } };
  declare partClass: PartClass | undefined;
  declare draw: (terminals: readonly RecordTerminal[]) => void;
  declare counts: TerminalCounts;

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('partClass')) this.counts = usualCounts(this.partClass);
  }

  protected override render(): TemplateResult {
    const terminals = layTerminals(this.counts);
    return html`<h2>${words.asFound.setUpTitle}</h2><p>${words.asFound.setUpLead}</p>
      <div class="halves">
        <div class="stack">
          ${this.#renderCount('studs', words.asFound.studs)} ${this.#renderCount('tabs', words.asFound.tabs)}
          ${renderChoices({
            name: 'small-place', legend: words.asFound.place, value: this.counts.place,
            choices: PLACES.map((place) => ({ value: place, label: words.asFound.places[place] })),
            onChoose: (place) => { this.counts = { ...this.counts, place }; },
          })}
          <div><button type="button" class="main" ?disabled=${terminals.length === 0} @click=${() => this.draw(terminals)}>${words.asFound.draw}</button></div>
        </div>
        <terminal-picture mode="still" .terminals=${terminals} .wires=${[]} .caption=${false}></terminal-picture>
      </div>`;
  }

  #renderCount(key: 'studs' | 'tabs', label: string): TemplateResult {
    const count = this.counts[key];
    const set = (to: number): void => { this.counts = { ...this.counts, [key]: to }; };
    return html`<div class="count"><span class="field-label">${label}</span>
      <button type="button" aria-label=${words.asFound.fewer(label)} ?disabled=${count === 0} @click=${() => set(count - 1)}>−</button>
      <output aria-live="polite">${count}</output>
      <button type="button" aria-label=${words.asFound.more(label)} ?disabled=${count === MOST} @click=${() => set(count + 1)}>+</button></div>`;
  }
}
customElements.define('terminal-set-up', TerminalSetUp);
