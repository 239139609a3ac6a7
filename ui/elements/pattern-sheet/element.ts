import { LitElement, css, html, svg, type TemplateResult } from 'lit';
import type { PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import type { BenchRecord, Mounting, Placement } from '../../../catalog-schema/index.ts';
import { drawingStyle, drawMounting, drawPaperMark, layMountingSheet, type MountingInput } from '../../drawing/index.ts';
import { fitsWords } from '../../words/fits.ts';
import { describeMounting } from '../old-under-new/view.ts';
import { layOutPattern } from './lay-out-pattern.ts';

/**
 * `<pattern-sheet>`: the old bolts under the new bracket at true size on one page, to lay the real bracket on, with bars to check the printer by.
 *
 * Properties: `machine` BenchRecord['mounting'] · `bracket` Part['mounting'] · `placement` Fit['placement'] · `units` 'mm' | 'inch'
 * · `paper` 'a4' | 'letter' · `heading` the part in words. No events.
 */
export class PatternSheet extends LitElement {
  static override properties = {
    machine: { attribute: false }, bracket: { attribute: false }, placement: { attribute: false }, units: {}, paper: { reflect: true }, heading: {},
  };
  static override styles = [drawingStyle, css`
    .page { display: block; width: 100%; max-width: none; height: auto; color: var(--ink); }
    .page .mark { fill: none; stroke: currentColor; }
    .page .mark text { fill: currentColor; stroke: none; }
    @media print {
      :host([paper='a4']) .page { width: 210mm; height: 297mm; }
      :host([paper='letter']) .page { width: 8.5in; height: 11in; }
    }`];

  declare machine: BenchRecord['mounting'];
  declare bracket: Mounting | undefined;
  declare placement: Placement | null;
  declare units: 'mm' | 'inch';
  declare paper: PaperName;
  declare heading: string;

  constructor() {
    super();
    this.machine = undefined;
    this.bracket = undefined;
    this.placement = null;
    this.units = 'mm';
    this.paper = 'a4';
    this.heading = '';
  }

  override render(): TemplateResult {
    const { machine, bracket } = this;
    const input: MountingInput = {
      bolts: machine?.holes ?? [], holes: bracket?.holes ?? [], placement: this.placement, widthPx: 0, units: this.units, trueSize: true,
      ...(machine?.boltMm === undefined ? {} : { boltMm: machine.boltMm }),
    };
    const sheet = layMountingSheet(input);
    const lines = describeMounting(input);
    const page = layOutPattern({
      paper: this.paper, widthPx: sheet.width, heightPx: sheet.height, title: this.heading, scale: fitsWords.pattern.scale,
      lines: [...lines, fitsWords.pattern.use], tooLarge: fitsWords.pattern.tooLarge,
    });
    const { place } = page;
    return html`<svg class="page" viewBox="0 0 ${page.widthMm} ${page.heightMm}" role="img" aria-label=${[this.heading, ...lines].join('. ')}>
      <g class="mark">${page.marks.map(drawPaperMark)}</g>
      ${place === undefined ? null : svg`<g transform=${place.turned ? `translate(${place.x + place.heightMm} ${place.y}) rotate(90)` : `translate(${place.x} ${place.y})`}>
        <svg width=${place.widthMm} height=${place.heightMm} viewBox=${`0 0 ${sheet.width} ${sheet.height}`}>${drawMounting(input, sheet)}</svg></g>`}
    </svg>`;
  }
}
customElements.define('pattern-sheet', PatternSheet);
