import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { StockMove, StockRow } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { formatMoment, formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import '../waiting-line/element.ts';
import './shelf-part.css';
import '../move-form/element.ts';
import '../shelf-aside/element.ts';

const { part: say } = shelfWords;

/**
 * `<shelf-part>`: one part on the shelf: its bins, a move to be booked, what is put aside, what moved.
 *
 * Properties: `desk` · `books` · `partId`. No events.
 */
export class ShelfPart extends PlainElement {
  static override properties = {
    desk: { attribute: false }, books: { attribute: false }, partId: {}, moves: { state: true }, movesFault: { state: true }, titles: { state: true }, said: { state: true },
  };
  declare desk: Desk;
  declare books: ShelfBooks;
  declare partId: string;
  declare moves: readonly StockMove[] | undefined;
  declare movesFault: string;
  declare titles: ReadonlyMap<string, string>;
  declare said: string;

  constructor() {
    super();
    this.movesFault = '';
    this.titles = new Map();
    this.said = '';
    followChanges(this, () => [this.books, this.desk?.shop, this.desk?.device]);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has('partId')) return;
    this.moves = undefined;
    this.said = '';
    void this.#read();
  }

  protected override render(): TemplateResult {
    const { desk, partId, books } = this;
    const part = desk.shop.parts.get(partId);
    if (part === undefined && !desk.shop.parts.isOnItsWay(partId)) return html`<h1>${partId}</h1><p>${say.gone}</p><p><a href="/shelf">${say.back}</a></p>`;
    const rows = books.rows?.filter((row) => row.partId === partId) ?? [];
    return html`<p><a href="/shelf">${say.back}</a></p>
      <div class="title-row"><h1>${part?.title ?? partId}</h1><a class="button" href="/shelf/labels/${encodeURIComponent(partId)}">${say.label}</a></div>
      <p class="number">${[partId, ...(part?.numbers ?? []).map(({ issuer, number }) => `${issuer} ${number}`)].join(' · ')}</p>
      <section aria-labelledby="shelf-bins"><h2 id="shelf-bins">${say.bins}</h2>
        ${books.rows === undefined ? html`<p role="status">${books.fault === undefined ? words.loading : sayFault(books.fault)}</p>` : rows.length === 0 ? html`<p>${say.notThere}</p>` : html`<ul class="rows">${rows.map((row) => this.#renderBin(row))}</ul>`}</section>
      <section aria-labelledby="shelf-act"><h2 id="shelf-act">${say.act}</h2>
        <move-form .books=${books} .partId=${partId} .rows=${rows} @moves-booked=${(event: CustomEvent<{ waiting: boolean }>) => { void this.#booked(event.detail.waiting); }}></move-form></section>
      <p role="status" class="mark-do">${this.said}</p>
      ${this.#renderWaiting()}<shelf-aside .desk=${desk} .books=${books} .partId=${partId} @moves-booked=${(event: CustomEvent<{ waiting: boolean }>) => { void this.#booked(event.detail.waiting); }}></shelf-aside>
      ${this.#renderMoves()}`;
  }

  #renderBin(row: StockRow): TemplateResult {
    return html`<li class="row shelf-row"><span class="number shelf-bin">${row.bin}</span>
      <span><b class=${row.free < 0 ? 'not' : ''}>${shelfWords.free(row.free)}</b>${shelfWords.stands(row.onHand, row.reserved)}
        ${row.below ? html`<br><span class="not">${shelfWords.below}</span>` : nothing}</span>
      <span class="row-state shelf-acts">${say.each(formatMoney(row.unitCost, row.currency))}
        <a class="touch-link" href="/shelf/count/${encodeURIComponent(row.bin)}">${say.countBin}</a></span></li>`;
  }

  #renderWaiting(): TemplateResult | typeof nothing {
    const waiting = this.desk.device.waiting.filter(({ errand }) => errand?.kind === 'moves' && errand.body.moves.some(({ partId }) => partId === this.partId));
    return waiting.length === 0 ? nothing : html`<ul class="rows waiting-rows">${waiting.map((item) => html`<li><waiting-line .desk=${this.desk} .item=${item}></waiting-line></li>`)}</ul>`;
  }

  #renderMoves(): TemplateResult {
    return html`<section aria-labelledby="shelf-moves"><h2 id="shelf-moves">${say.moves}</h2>
      ${this.movesFault !== '' ? html`<p class="mark-do">${say.movesFailed} ${this.movesFault}</p>` : this.moves === undefined ? html`<p role="status">${words.loading}</p>` : this.moves.length === 0 ? html`<p class="quiet">${say.noMoves}</p>`
        : html`<div class="moves-scroll" tabindex="0" role="region" aria-labelledby="shelf-moves"><table class="moves"><thead><tr>${Object.values(say.table).map((word) => html`<th scope="col">${word}</th>`)}</tr></thead>
        <tbody>${this.moves.map((move) => html`<tr><td>${formatMoment(move.at)}</td><td>${move.kind === 'count' ? say.countedAs(move.booked ?? 0, move.qty) : shelfWords.kinds[move.kind]}</td>
          <td class="number">${move.toBin === undefined ? move.bin : say.to(move.bin, move.toBin)}</td><td class="number">${signed(move)}</td><td>${move.by ?? ''}</td>
          <td>${move.reason === 'opening' ? say.opening : move.reason ?? ''}${move.jobId === undefined ? nothing : html` <a href="/jobs/${encodeURIComponent(move.jobId)}">${this.titles.get(move.jobId) ?? words.nav.jobs}</a>`}</td></tr>`)}</tbody></table></div>`}</section>`;
  }

  async #read(): Promise<void> {
    const { desk, partId } = this;
    void desk.shop.open().then(() => desk.shop.parts.fetch([partId])).catch(() => {});
    void desk.service.listJobs().then((jobs) => { this.titles = new Map(jobs.map((job) => [job.id, job.document.title])); }).catch(() => {});
    try {
      const moves = await desk.service.readMoves(partId);
      if (partId !== this.partId) return;
      this.moves = moves;
      this.movesFault = '';
    } catch (error) {
      this.movesFault = sayFault(error);
    }
  }

  async #booked(waiting: boolean): Promise<void> {
    this.said = waiting ? words.offline.kept.moves : say.booked;
    await this.#read();
  }
}
customElements.define('shelf-part', ShelfPart);

/** Units with the sign of what they did to the bin. */
function signed({ kind, qty, booked = 0 }: StockMove): string {
  const by = kind === 'count' ? qty - booked : kind === 'in' || kind === 'return' ? qty : kind === 'out' || kind === 'scrap' ? -qty : 0;
  return by > 0 ? `+${by}` : by < 0 ? `−${-by}` : kind === 'count' ? '0' : `(${qty})`;
}
