import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { PAPER_NAMES, PAPERS, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import { printWireCode, type Wire } from '../../../catalog-schema/index.ts';
import { drawPaperMark, loadCodeDrawer, readWireColour, type CodeDrawing, type CodeKind } from '../../drawing/index.ts';
import { words } from '../../words.ts';
import { renderChoices } from '../choices.ts';
import { renderCode } from '../code-label/element.ts';
import { PlainElement } from '../plain-element.ts';
import { layOutTags, moduleOf, type TagPage, type TagPlace } from './lay-out-tags.ts';

/**
 * `<wire-tags>`: a flag tag for each wire, with its code, at true size on plain paper. While it stands on the page, printing prints it alone.
 *
 * Properties: `jobId` · `heading` the job in words · `wires` Wire[]. No events.
 */
export class WireTags extends PlainElement {
  static override properties = { jobId: {}, heading: {}, wires: { attribute: false }, kind: { state: true }, paper: { state: true }, draw: { state: true }, failed: { state: true } };
  declare jobId: string;
  declare heading: string;
  declare wires: readonly Wire[];
  declare kind: CodeKind;
  declare paper: PaperName;
  declare draw: ((kind: CodeKind, text: string) => CodeDrawing) | undefined;
  declare failed: string;

  constructor() {
    super();
    this.wires = [];
    this.kind = 'qr';
    this.paper = 'a4';
    this.failed = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    loadCodeDrawer().then((draw) => { this.draw = draw; }, (error: unknown) => { this.failed = error instanceof Error ? error.message : String(error); });
  }

  protected override render(): TemplateResult {
    if (this.wires.length === 0) return html`<p>${words.wires.noTags}</p>`;
    return html`<div class="stack screen-only">
        <p>${words.wires.tagsLead(this.wires.length)}</p>
        ${renderChoices<CodeKind>({
          name: 'tag-kind', legend: words.wires.tagKind, value: this.kind,
          choices: (['qr', 'code128'] as const).map((value) => ({ value, label: words.wires.tagKinds[value], hint: words.wires.tagKindHints[value] })),
          onChoose: (kind) => { this.kind = kind; },
        })}
        ${renderChoices<PaperName>({
          name: 'tag-paper', legend: words.gauge.paper, value: this.paper, choices: PAPER_NAMES.map((value) => ({ value, label: PAPERS[value].name })),
          onChoose: (paper) => { this.paper = paper; },
        })}
        <p><button type="button" class="main" ?disabled=${this.draw === undefined} @click=${() => print()}>${words.wires.printTags}</button></p>
        ${this.failed === '' ? nothing : html`<p class="not" role="alert">${words.codes.cannotDraw(this.failed)}</p>`}
      </div>
      ${this.draw === undefined ? html`<p class="quiet screen-only" role="status">${words.codes.drawing}</p>` : this.#layOut().map((page, index) => this.#renderPage(page, index))}`;
  }

  #layOut(): TagPage[] {
    return layOutTags({
      tags: this.wires.map((wire) => ({
        tag: wire.tag, colour: readWireColour(wire.colour).letters, job: this.heading,
        place: words.wires.tagPlace(wire.wasOn, wire.leadsTo === undefined || wire.leadsTo === 'unknown' ? '' : words.wire.leadsTo[wire.leadsTo].name),
      })),
      kind: this.kind, paper: this.paper, title: words.wires.tagsTitle(this.heading), how: words.wires.tagsHow, bar: words.wires.tagsBar,
    });
  }

  #renderPage(page: TagPage, index: number): TemplateResult {
    return html`<svg class="tag-page" data-paper=${this.paper} role="img" aria-label=${words.wires.tagsPage(index + 1, page.places.map((place) => this.wires[place.index]!.tag))}
      viewBox="0 0 ${page.widthMm} ${page.heightMm}" fill="none" stroke="currentColor">
      ${page.marks.map(drawPaperMark)}
      ${page.folds.map(([x1, y1, x2, y2]) => svg`<line class="tag-fold" x1=${x1} y1=${y1} x2=${x2} y2=${y2} stroke-width="0.2" stroke-dasharray="1.2 1"></line>`)}
      ${page.places.map((place) => this.#renderTag(place))}</svg>`;
  }

  #renderTag(place: TagPlace): SVGTemplateResult {
    const wire = this.wires[place.index]!;
    const { base, stripe, known } = readWireColour(wire.colour);
    const { xMm, yMm, widthMm, heightMm } = place.swatch;
    let drawing: CodeDrawing;
    try {
      drawing = this.draw!(this.kind, printWireCode(this.jobId, wire.tag));
    } catch {
      // Only a tag of hundreds of letters does not go into a code: its words are still printed.
      return svg`<text x=${place.code.xMm + 1} y=${place.code.yMm + 5} style="font-size: 2.6px">${words.wires.tagTooLong}</text>`;
    }
    const module = moduleOf(this.kind, drawing.wide, drawing.high, place.code);
    const [wide, high] = [drawing.wide * module, drawing.high * module];
    return svg`<rect x=${xMm} y=${yMm} width=${widthMm} height=${heightMm} fill=${known ? base : 'none'} stroke-width="0.25" stroke-dasharray=${known ? 'none' : '0.8 0.8'}></rect>
      ${stripe === null ? null : svg`<line x1=${xMm} y1=${yMm + heightMm / 2} x2=${xMm + widthMm} y2=${yMm + heightMm / 2} stroke=${stripe} stroke-width=${heightMm / 3}></line>`}
      <svg class="tag-code" x=${place.code.xMm + (place.code.widthMm - wide) / 2} y=${place.code.yMm + (place.code.heightMm - high) / 2} width=${wide} height=${high}
        viewBox="0 0 ${drawing.wide} ${drawing.high}" stroke="none" shape-rendering="crispEdges">${renderCode(drawing)}</svg>`;
  }
}
customElements.define('wire-tags', WireTags);
