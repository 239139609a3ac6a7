import { html, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { LINE_MM, PAPER_NAMES, PAPERS, layOutGaugeSheet, type GaugePage, type Mark, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
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
    ${page.marks.map(renderMark)}</svg>`;
}

function renderMark(mark: Mark): SVGTemplateResult {
  switch (mark.kind) {
    case 'line': return svg`<line x1=${mark.x1} y1=${mark.y1} x2=${mark.x2} y2=${mark.y2} stroke-width=${LINE_MM[mark.weight]}></line>`;
    case 'circle': return svg`<circle cx=${mark.x} cy=${mark.y} r=${mark.diameterMm / 2} stroke-width=${LINE_MM[mark.weight]}></circle>`;
    case 'polygon': return svg`<polygon points=${mark.points.map((point) => point.join(',')).join(' ')} stroke-width=${LINE_MM[mark.weight]}></polygon>`;
    case 'text': return svg`<text x=${mark.x} y=${mark.y} font-size=${mark.sizeMm} font-weight=${mark.strong ? 700 : 400} text-anchor=${mark.anchor}>${mark.words}</text>`;
  }
}
