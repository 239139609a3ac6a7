import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { PAPER_NAMES, PAPERS, type PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import { printShelfCode, type ShelfCode, type StockRow } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { drawPaperMark, loadCodeDrawer, type CodeDrawing, type CodeKind } from '../../drawing/index.ts';
import { sayFault } from '../../say-fault.ts';
import { compareBins, matchRows, squash, walkRows } from '../../screens/shelf/match-rows.ts';
import { words } from '../../words.ts';
import { codesWords } from '../../words/codes.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { renderChoices } from '../choices.ts';
import { renderCode } from '../code-label/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { layOutLabels, moduleOf, type LabelPlace, type LabelWords } from './lay-out-labels.ts';
import './shelf-labels.css';

const { label: say } = shelfWords;
type What = 'bins' | 'parts';
interface Label extends LabelWords { readonly code: ShelfCode }

/**
 * `<shelf-labels>`: labels of bins or parts with their codes, at true size. While it stands on the page, printing prints it alone.
 *
 * Properties: `desk` · `books` · `only` a bin, a part's id or words; '' for all. No events.
 */
export class ShelfLabels extends PlainElement {
  static override properties = {
    desk: { attribute: false }, books: { attribute: false }, only: {}, what: { state: true }, kind: { state: true }, paper: { state: true }, wanted: { state: true }, draw: { state: true }, failed: { state: true },
  };
  declare desk: Desk;
  declare books: ShelfBooks;
  declare only: string;
  declare what: What | undefined;
  declare kind: CodeKind;
  declare paper: PaperName;
  /** what was typed; what the page was opened for where nothing was */
  declare wanted: string | undefined;
  declare draw: ((kind: CodeKind, text: string) => CodeDrawing) | undefined;
  declare failed: string;

  constructor() {
    super();
    this.only = '';
    this.kind = 'qr';
    this.paper = 'a4';
    this.failed = '';
    followChanges(this, () => [this.books, this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.desk.shop.open().then(() => this.desk.shop.parts.fetch([this.only])).catch(() => {});
    loadCodeDrawer().then((draw) => { this.draw = draw; }, (error: unknown) => { this.failed = error instanceof Error ? error.message : String(error); });
  }

  protected override render(): TemplateResult {
    const { rows } = this.books;
    if (rows === undefined) return html`<h1>${say.title}</h1><p role="status">${this.books.fault === undefined ? words.loading : sayFault(this.books.fault)}</p>`;
    const wanted = this.wanted ?? this.only;
    const what = this.what ?? (this.desk.shop.parts.get(this.only) === undefined ? 'bins' : 'parts');
    const labels = this.#labels(rows, wanted, what);
    const pages = layOutLabels({ labels, kind: this.kind, paper: this.paper, title: say.sheet(say.title), bar: say.bar });
    return html`<div class="stack screen-only">
        <p><a href="/shelf">${shelfWords.part.back}</a></p><h1>${say.title}</h1><p>${say.lead}</p>
        ${renderChoices<What>({ name: 'label-what', legend: say.what, value: what, choices: (['bins', 'parts'] as const).map((value) => ({ value, label: say.whats[value] })), onChoose: (value) => { this.what = value; } })}
        <div class="field"><label for="label-only">${say.only}</label><input id="label-only" .value=${wanted} autocomplete="off" maxlength="500" aria-describedby="label-only-hint"
          @input=${(event: Event) => { this.wanted = (event.target as HTMLInputElement).value; }}><small id="label-only-hint">${say.onlyHint}</small></div>
        ${renderChoices<CodeKind>({ name: 'label-code', legend: say.code, value: this.kind, choices: (['qr', 'code128'] as const).map((value) => ({ value, label: say.codes[value], hint: say.codeHints[value] })), onChoose: (kind) => { this.kind = kind; } })}
        ${renderChoices<PaperName>({ name: 'label-paper', legend: words.gauge.paper, value: this.paper, choices: PAPER_NAMES.map((value) => ({ value, label: PAPERS[value].name })), onChoose: (paper) => { this.paper = paper; } })}
        <p role="status">${labels.length === 0 ? say.none : say.count(labels.length, pages.length)}</p>
        <p><button type="button" class="main" ?disabled=${this.draw === undefined || labels.length === 0} @click=${() => print()}>${say.print}</button></p>
        ${this.failed === '' ? nothing : html`<p class="not" role="alert">${codesWords.cannotDraw(this.failed)}</p>`}</div>
      ${this.draw === undefined ? html`<p class="quiet screen-only" role="status">${codesWords.drawing}</p>` : pages.map((page, index) => html`<svg class="label-page" data-paper=${this.paper} role="img" aria-label=${say.page(index + 1, pages.length)}
        viewBox="0 0 ${page.widthMm} ${page.heightMm}" fill="none" stroke="currentColor">${page.marks.map(drawPaperMark)}${page.places.map((place) => this.#renderCode(place, labels[place.index]!))}</svg>`)}`;
  }

  #renderCode({ code }: LabelPlace, label: Label): SVGTemplateResult {
    let drawing: CodeDrawing;
    try {
      drawing = this.draw!(this.kind, printShelfCode(label.code));
    } catch {
      // Only a name of hundreds of letters does not go into a code: its words are still printed.
      return svg`<text x=${code.xMm + 1} y=${code.yMm + 5} style="font-size: 2.6px">${say.tooLong}</text>`;
    }
    const module = moduleOf(this.kind, drawing.wide, drawing.high, code);
    const [wide, high] = [drawing.wide * module, drawing.high * module];
    return svg`<svg class="label-code" x=${code.xMm + (code.widthMm - wide) / 2} y=${code.yMm + (code.heightMm - high) / 2} width=${wide} height=${high}
      viewBox="0 0 ${drawing.wide} ${drawing.high}" stroke="none" shape-rendering="crispEdges">${renderCode(drawing)}</svg>`;
  }

  /** Every bin, or every part on the shelf, that is wanted. A part that is named need not be on the shelf. */
  #labels(rows: readonly StockRow[], wanted: string, what: What): Label[] {
    const { parts } = this.desk.shop;
    const titleOf = (partId: string): string => parts.get(partId)?.title ?? partId;
    const asked = wanted.split(',').map((one) => one.trim()).filter((one) => squash(one) !== '');
    const found = walkRows(asked.length === 0 ? rows : [...new Set(asked.flatMap((one) => matchRows(rows, one, (id) => parts.get(id))))], titleOf);
    if (what === 'bins') {
      return [...new Set(found.map(({ bin }) => bin))].toSorted(compareBins).map((bin) => {
        const inIt = found.filter((row) => row.bin === bin);
        return { code: { kind: 'bin', bin }, large: bin, lines: inIt.length === 1 ? [titleOf(inIt[0]!.partId), inIt[0]!.partId] : [shelfWords.parts(inIt.length)] };
      });
    }
    const unshelved = asked.filter((one) => parts.get(one) !== undefined);
    return [...new Set([...found.map(({ partId }) => partId), ...unshelved])].map((partId) => {
      const bins = found.filter((row) => row.partId === partId).map(({ bin }) => bin);
      const [number] = parts.get(partId)?.numbers ?? [];
      return { code: { kind: 'part', partId }, large: partId, lines: [titleOf(partId), [...(number === undefined ? [] : [`${number.issuer} ${number.number}`]), ...(bins.length === 0 ? [] : [say.inBin(words.list(bins))])].join(', ')] };
    });
  }
}
customElements.define('shelf-labels', ShelfLabels);
