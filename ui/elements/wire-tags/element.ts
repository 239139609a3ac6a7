import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { PAPER_NAMES, PAPERS, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import { LIMITS, printWireCode, type Wire } from '../../../catalog-schema/index.ts';
import { drawPaperMark, loadCodeDrawer, readWireColour, type CodeDrawing, type CodeKind } from '../../drawing/index.ts';
import { proposeTag } from '../../screens/as-found/next-tag.ts';
import { words } from '../../words.ts';
import { codesWords } from '../../words/codes.ts';
import { renderChoices } from '../choices.ts';
import { renderCode } from '../code-label/element.ts';
import { PlainElement } from '../plain-element.ts';
import { layOutTags, moduleOf, type TagPage, type TagPlace } from './lay-out-tags.ts';

/** A tag, and the wire that carries it where there is one already. */
interface Tag { readonly tag: string; readonly wire?: Wire }
const SPARES = [0, 4, 8] as const;

/**
 * `<wire-tags>`: a flag tag for each wire, with its code, at true size on plain paper, and spare ones for wires that are still to be
 * recorded. While it stands on the page, printing prints it alone.
 *
 * Properties: `jobId` · `heading` the job in words · `wires` Wire[]. No events.
 */
export class WireTags extends PlainElement {
  static override properties = { jobId: {}, heading: {}, wires: { attribute: false }, kind: { state: true }, paper: { state: true }, spare: { state: true }, draw: { state: true }, failed: { state: true } };
  declare jobId: string;
  declare heading: string;
  declare wires: readonly Wire[];
  declare kind: CodeKind;
  declare paper: PaperName;
  /** spare tags asked for; where nobody has said, some for a job without wires */
  declare spare: number | undefined;
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
    const tags = this.#tags();
    return html`<div class="stack screen-only">
        <p>${words.wires.tagsLead(this.wires.length, tags.length - this.wires.length)}</p>
        ${renderChoices({
          name: 'tag-spare', legend: words.wires.spare, value: String(this.#spare),
          choices: SPARES.map((count) => ({ value: String(count), label: words.wires.spares(count) })), onChoose: (count) => { this.spare = Number(count); },
        })}
        ${renderChoices<CodeKind>({
          name: 'tag-kind', legend: words.wires.tagKind, value: this.kind,
          choices: (['qr', 'code128'] as const).map((value) => ({ value, label: words.wires.tagKinds[value], hint: words.wires.tagKindHints[value] })),
          onChoose: (kind) => { this.kind = kind; },
        })}
        ${renderChoices<PaperName>({
          name: 'tag-paper', legend: words.gauge.paper, value: this.paper, choices: PAPER_NAMES.map((value) => ({ value, label: PAPERS[value].name })),
          onChoose: (paper) => { this.paper = paper; },
        })}
        <p><button type="button" class="main" ?disabled=${this.draw === undefined || tags.length === 0} @click=${() => print()}>${words.wires.printTags}</button></p>
        ${this.failed === '' ? nothing : html`<p class="not" role="alert">${codesWords.cannotDraw(this.failed)}</p>`}
      </div>
      ${this.draw === undefined ? html`<p class="quiet screen-only" role="status">${codesWords.drawing}</p>` : this.#layOut(tags).map((page, index) => this.#renderPage(page, index, tags))}`;
  }

  get #spare(): number { return this.spare ?? (this.wires.length === 0 ? SPARES.at(-1)! : 0); }

  /** The wires, then the names that the next ones will be given. */
  #tags(): Tag[] {
    const tags: Tag[] = this.wires.map((wire) => ({ tag: wire.tag, wire }));
    for (let k = 0; k < this.#spare && tags.length < LIMITS.wires; k += 1) tags.push({ tag: proposeTag(tags.map(({ tag }) => tag)) });
    return tags;
  }

  #layOut(tags: readonly Tag[]): TagPage[] {
    return layOutTags({
      tags: tags.map(({ tag, wire }) => ({
        tag, colour: readWireColour(wire?.colour).letters, job: this.heading,
        place: wire === undefined ? '' : words.wires.tagPlace(wire.wasOn, wire.leadsTo === undefined || wire.leadsTo === 'unknown' ? '' : words.wire.leadsTo[wire.leadsTo].name),
      })),
      kind: this.kind, paper: this.paper, title: words.wires.tagsTitle(this.heading), how: words.wires.tagsHow, bar: words.wires.tagsBar,
    });
  }

  #renderPage(page: TagPage, index: number, tags: readonly Tag[]): TemplateResult {
    return html`<svg class="tag-page" data-paper=${this.paper} role="img" aria-label=${words.wires.tagsPage(index + 1, page.places.map((place) => tags[place.index]!.tag))}
      viewBox="0 0 ${page.widthMm} ${page.heightMm}" fill="none" stroke="currentColor">
      ${page.marks.map(drawPaperMark)}
      ${page.folds.map(([x1, y1, x2, y2]) => svg`<line class="tag-fold" x1=${x1} y1=${y1} x2=${x2} y2=${y2} stroke-width="0.2" stroke-dasharray="1.2 1"></line>`)}
      ${page.places.map((place) => this.#renderTag(place, tags[place.index]!))}</svg>`;
  }

  #renderTag(place: TagPlace, { tag, wire }: Tag): SVGTemplateResult {
    const { base, stripe, known } = readWireColour(wire?.colour);
    const { xMm, yMm, widthMm, heightMm } = place.swatch;
    let drawing: CodeDrawing;
    try {
      drawing = this.draw!(this.kind, printWireCode(this.jobId, tag));
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
