import { html, nothing, type TemplateResult } from 'lit';
import type { IdentifyAnswer, RecordTerminal } from '../../../catalog-schema/index.ts';
import { benchWords } from '../../words/bench.ts';
import type { TerminalFigure } from '../measure-target.ts';
import { PlainElement } from '../plain-element.ts';
import { weighThreads } from './weigh-threads.ts';

/** Which threads a stud may have, how likely each is, why that is not decided, and what would decide it. */
export class ThreadCard extends PlainElement {
  static override properties = { terminal: { attribute: false }, candidates: { attribute: false } };
  declare terminal: RecordTerminal;
  declare candidates: IdentifyAnswer['threads'][number]['candidates'];

  protected override render(): TemplateResult | typeof nothing {
    const { likely, why, measure } = weighThreads(this.terminal, this.candidates);
    if (likely.length === 0) return nothing;
    return html`<ul class="thread-card" aria-label=${benchWords.threadFrom}>${likely.map(({ thread, probability }) => html`<li>
        <b>${thread}</b> <span class="quiet">${benchWords.likelihood(probability)}</span> <span class="share">${benchWords.percent(probability)}</span>
        <span class="bar" aria-hidden="true" style="--share: ${probability}"></span></li>`)}</ul>
      ${why === undefined ? nothing : html`<p class="found"><span class="do">${why === 'twins' ? benchWords.twins(likely.map(({ thread }) => thread)) : benchWords.undecided(likely.map(({ thread }) => thread))}</span></p>`}
      ${why === undefined ? nothing : measure === undefined ? html`<p class="found">${benchWords.tryNut}</p>`
        : html`<button type="button" @click=${() => this.#aim(measure)}>${benchWords.measureHere[measure]}</button>`}`;
  }

  #aim(figure: TerminalFigure): void {
    this.dispatchEvent(new CustomEvent('measure-aim', { detail: { target: { kind: 'figure', terminal: this.terminal.id, figure } }, bubbles: true, composed: true }));
  }
}
customElements.define('thread-card', ThreadCard);
