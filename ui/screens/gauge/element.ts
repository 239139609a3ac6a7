import { html, type TemplateResult } from 'lit';
import { PAPER_NAMES, PAPERS, layOutGaugeSheet, type GaugePage, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import { drawPaperMark } from '../../drawing/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { words } from '../../words.ts';
import './gauge.css';

/** The bench gauge sheet: shown page by page, printed at true size on the chosen paper. */
export class GaugeScreen extends PlainElement {
  static override properties = { paper: { state: true } };
  declare paper: PaperName;

  constructor() {
    super();
    this.paper = 'a4';
  }

  protected override render(): TemplateResult {
    const { pages } = layOutGaugeSheet(this.paper);
    return html`<main id="sheet" tabindex="-1">
        <div class="screen-only stack">
          <h1>${words.gauge.title}</h1>
          <p>${words.gauge.lead}</p>
          <p class="caution">${words.gauge.scale}</p>
          ${renderChoices({
            name: 'paper', legend: words.gauge.paper, value: this.paper,
            choices: PAPER_NAMES.map((value) => ({ value, label: PAPERS[value].name })),
            onChoose: (value) => { this.paper = value; },
          })}
          <p><button type="button" class="main" @click=${() => print()}>${words.gauge.print}</button></p>
        </div>
        ${pages.map((page, index) => renderPage(page, this.paper, words.gauge.page(index + 1, pages.length)))}
      </main>`;
  }
}
customElements.define('gauge-screen', GaugeScreen);

function renderPage(page: GaugePage, paper: PaperName, name: string): TemplateResult {
  return html`<svg class="gauge-page" data-paper=${paper} role="img" aria-label=${name} viewBox="0 0 ${page.widthMm} ${page.heightMm}" fill="none" stroke="currentColor">
    ${page.marks.map(drawPaperMark)}</svg>`;
}
