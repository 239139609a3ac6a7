import { html, svg, type PropertyValues, type TemplateResult } from 'lit';
import { loadCodeDrawer, type CodeDrawing, type CodeKind } from '../../drawing/index.ts';
import { codesWords } from '../../words/codes.ts';
import { PlainElement } from '../plain-element.ts';

/** A module that a telephone reads at arm's length and a printer still draws squarely, mm. Common practice, no source. */
const MODULE_MM: Readonly<Record<CodeKind, number>> = { qr: 0.5, code128: 0.25 };

/**
 * `<code-label>`: a text as a code, black on white on every ground, at true size on paper.
 *
 * Properties: `text` · `kind` 'qr' | 'code128' · `label` what it is, in words, for who cannot see it · `moduleMm` the side of its
 * smallest square. The library that draws is loaded with the first one.
 */
export class CodeLabel extends PlainElement {
  static override properties = { text: {}, kind: {}, label: {}, moduleMm: { attribute: false }, drawing: { state: true }, failed: { state: true } };
  declare text: string;
  declare kind: CodeKind;
  declare label: string;
  declare moduleMm: number | undefined;
  declare drawing: CodeDrawing | undefined;
  declare failed: string;

  constructor() {
    super();
    this.text = '';
    this.kind = 'qr';
    this.label = '';
    this.failed = '';
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('text') || changed.has('kind')) void this.#draw(this.text, this.kind);
  }

  protected override render(): TemplateResult {
    if (this.failed !== '') return html`<p class="not" role="alert">${codesWords.cannotDraw(this.failed)}</p>`;
    const { drawing } = this;
    if (drawing === undefined) return html`<p class="quiet" role="status">${codesWords.drawing}</p>`;
    const module = this.moduleMm ?? MODULE_MM[this.kind];
    return html`<svg class="code-label" role="img" aria-label=${this.label === '' ? this.text : this.label} viewBox="0 0 ${drawing.wide} ${drawing.high}"
      width="${drawing.wide * module}mm" height="${drawing.high * module}mm" shape-rendering="crispEdges">${renderCode(drawing)}</svg>`;
  }

  async #draw(text: string, kind: CodeKind): Promise<void> {
    try {
      const drawing = (await loadCodeDrawer())(kind, text);
      if (text === this.text && kind === this.kind) Object.assign(this, { drawing, failed: '' });
    } catch (error) {
      if (text === this.text && kind === this.kind) this.failed = error instanceof Error ? error.message : String(error);
    }
  }
}
customElements.define('code-label', CodeLabel);

/** The modules of a code on their white ground, in an `svg` whose view box is the drawing's. */
export function renderCode({ wide, high, path }: CodeDrawing): TemplateResult {
  return svg`<rect width=${wide} height=${high} fill="#ffffff"></rect><path d=${path} fill="#000000" fill-rule="evenodd"></path>`;
}
