import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { BenchRecord, StockRow } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { sayWhatItTakes } from '../../screens/fits/fit-words.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { listShelfFits, type ShelfFit } from './list-shelf-fits.ts';
import './shelf-fits.css';

const { counter: say } = shelfWords;
/** Fits asked for: more are not looked through while somebody waits. */
const MOST = 40;

/**
 * `<shelf-fits>`: what may go on in a part's place and lies free on the shelf, each with its bin and what is still open.
 *
 * Properties: `desk` · `books` · `record` what is known of the part in the hand · `known` {partId, currentIds} where it was found by a number.
 * Event (bubbling): `slip-put` {partId, bin, open}: one of it goes on the slip.
 */
export class ShelfFits extends PlainElement {
  static override properties = { desk: { attribute: false }, books: { attribute: false }, record: { attribute: false }, known: { attribute: false }, fits: { state: true }, failed: { state: true } };
  declare desk: Desk;
  declare books: ShelfBooks;
  declare record: BenchRecord;
  declare known: { readonly partId: string; readonly currentIds: readonly string[] } | undefined;
  declare fits: ((rows: readonly StockRow[]) => ShelfFit[]) | undefined;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
    followChanges(this, () => [this.books, this.desk?.shop]);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('record') || changed.has('known')) void this.#look();
  }

  protected override render(): TemplateResult {
    const { rows } = this.books;
    if (this.failed !== '') return html`<p class="caution" role="alert">${this.failed}</p>`;
    if (this.fits === undefined || rows === undefined) return html`<p role="status">${say.looking}</p>`;
    const listed = this.fits(rows);
    if (listed.length === 0) return html`<p role="status"><b>${say.none}</b> ${say.noneNext}</p>`;
    return html`<p class="caution">${this.known === undefined ? say.fromSheet : say.unmeasured}</p><ul class="rows">${listed.map((one) => this.#renderFit(one))}</ul>`;
  }

  #renderFit({ partId, kind, bin, free, fit, open, throughCase }: ShelfFit): TemplateResult {
    const title = this.desk.shop.parts.get(partId)?.title ?? partId;
    const settled = fit?.verdict === 'direct' || fit?.verdict === 'adapt';
    return html`<li class="row shelf-fit"><span class="number shelf-bin">${bin}</span>
      <span><span class="row-main">${title}</span> <span class="number quiet">${partId}</span><br>
        <b class=${kind === 'other' && !settled ? '' : 'mark-do'}>${settled ? fitsWords.verdicts[fit.verdict] : say[kind]}</b>, ${shelfWords.free(free)}
        ${settled ? html`<br>${say.takes(sayWhatItTakes(fit))}` : open.length === 0 ? nothing : html`<br><span class="quiet">${say.open(words.list(open.map((criterion) => words.criteria[criterion])))}</span>`}
        ${throughCase ? html`<br><span class="not">${say.throughCase}</span>` : nothing}</span>
      <button type="button" class=${kind === 'same' ? 'main' : ''} aria-label=${say.putName(title, bin)} @click=${() => this.dispatchEvent(new CustomEvent('slip-put', { detail: { partId, bin, open: settled ? [] : open }, bubbles: true }))}>${say.put}</button></li>`;
  }

  async #look(): Promise<void> {
    const { desk, record, known } = this;
    this.fits = undefined;
    this.failed = '';
    try {
      await desk.shop.open();
      const answer = await desk.engine.fit(record, { only: { onShelf: true }, most: MOST, history: desk.shop.history });
      const ids = [...answer.fits.map(({ partId }) => partId), ...(known === undefined ? [] : [known.partId, ...known.currentIds])];
      await desk.shop.parts.fetch(ids);
      if (record === this.record) this.fits = (rows) => listShelfFits(answer, rows, known, (id) => desk.shop.parts.get(id));
    } catch (error) {
      if (record === this.record) this.failed = sayFault(error);
    }
  }
}
customElements.define('shelf-fits', ShelfFits);
