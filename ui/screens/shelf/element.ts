import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { readShelfCode, type Part, type StockRow } from '../../../catalog-schema/index.ts';
import { ShelfBooks, type Desk } from '../../client/index.ts';
import '../../elements/code-reader/element.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/shelf-aside/element.ts';
import '../../elements/shelf-count/element.ts';
import '../../elements/shelf-labels/element.ts';
import '../../elements/shelf-part/element.ts';
import '../../elements/waiting-line/element.ts';
import { formatMoment } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { matchRows, squash, walkRows } from './match-rows.ts';
import './shelf.css';

export type ShelfView = 'list' | 'part' | 'bin' | 'count' | 'labels';
/** Rows shown before some words are asked for: more would be slow to draw and nobody reads them. */
const MOST_ROWS = 200;
const MOST_ELSEWHERE = 8;

/** The shelf: every bin, one part, one bin, a count, labels. */
export class ShelfScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, view: {}, detail: {}, text: { state: true }, typed: { state: true }, elsewhere: { state: true }, said: { state: true } };
  declare desk: Desk;
  declare view: ShelfView;
  /** the part or the bin that is open */
  declare detail: string | undefined;
  /** what was asked for last; '' for the whole shelf */
  declare text: string;
  declare typed: string;
  /** parts of the catalogue like it that are not on the shelf; undefined while they are looked for */
  declare elsewhere: readonly Part[] | undefined;
  declare said: string;
  #books: ShelfBooks | undefined;
  #waiting = 0;

  constructor() {
    super();
    this.text = '';
    this.typed = '';
    this.said = '';
    this.elsewhere = [];
    followChanges(this, () => [this.#books, this.desk?.device, this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#books ??= new ShelfBooks(this.desk);
    void this.#books.read();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('view') || changed.has('detail')) this.said = '';
    const waiting = this.desk.device.waiting.filter(({ what }) => what === 'moves').length;
    // What waited has been sent: the server's rows are other ones now.
    if (waiting < this.#waiting) void this.#books?.read();
    this.#waiting = waiting;
  }

  protected override render(): TemplateResult {
    const books = this.#books!;
    const { desk, view, detail } = this;
    return html`<main id="sheet" tabindex="-1">${view === 'count' ? html`<shelf-count .desk=${desk} .books=${books} .bin=${detail}></shelf-count>`
      : view === 'labels' ? html`<shelf-labels .desk=${desk} .books=${books} .only=${detail ?? ''}></shelf-labels>`
        : view === 'part' ? html`<shelf-part .desk=${desk} .books=${books} .partId=${detail ?? ''}></shelf-part>`
          : this.#renderList(books)}</main>`;
  }

  #renderList(books: ShelfBooks): TemplateResult {
    const { desk, view, detail } = this;
    const bin = view === 'bin' ? detail : undefined;
    return html`<div class="title-row"><h1>${bin === undefined ? shelfWords.title : shelfWords.bin(bin)}</h1>
        <span class="button-row"><a class="button" href=${bin === undefined ? '/shelf/count' : `/shelf/count/${encodeURIComponent(bin)}`}>${bin === undefined ? shelfWords.count : shelfWords.part.countBin}</a>
          <a class="button" href=${bin === undefined ? '/shelf/labels' : `/shelf/labels/${encodeURIComponent(bin)}`}>${shelfWords.printLabels}</a></span></div>
      ${bin === undefined ? this.#renderFind() : html`<p><a href="/shelf">${shelfWords.part.back}</a></p>`}
      ${renderAge(desk)}
      ${bin === undefined && this.text === '' ? html`<shelf-aside .desk=${desk} .books=${books}></shelf-aside>` : nothing}
      ${books.rows !== undefined ? this.#renderRows(books.rows, bin) : books.fault === undefined ? html`<p role="status">${words.loading}</p>`
        : html`<div class="caution" role="alert"><p>${sayFault(books.fault)}</p><button type="button" @click=${() => { void books.read(); }}>${words.tryAgain}</button></div>`}
      ${this.#renderWaiting()}`;
  }

  #renderFind(): TemplateResult {
    return html`<form class="field" role="search" @submit=${(event: Event) => { event.preventDefault(); this.#ask(this.typed); }}>
        <label for="shelf-find">${shelfWords.find}</label>
        <span class="field-row"><input id="shelf-find" .value=${this.typed} autocomplete="off" spellcheck="false" maxlength="200" aria-describedby="shelf-find-hint" enterkeyhint="search"
          @input=${(event: Event) => { this.typed = (event.target as HTMLInputElement).value; }}><button class="main">${shelfWords.findAct}</button></span>
        <small id="shelf-find-hint">${shelfWords.findHint}</small></form>
      <details class="shelf-camera"><summary>${shelfWords.readLabel}</summary>
        <code-reader .codes=${this.desk.codes} .understands=${(text: string) => readShelfCode(text) !== undefined} @code-read=${(event: CustomEvent<{ text: string }>) => this.#ask(event.detail.text)}></code-reader></details>
      <p role="status" class="mark-do">${this.said}</p>
      ${this.text === '' ? nothing : html`<p><button type="button" class="plain" @click=${() => { this.typed = ''; this.#ask(''); }}>${shelfWords.all}</button></p>`}`;
  }

  #renderRows(rows: readonly StockRow[], bin: string | undefined): TemplateResult {
    const { parts } = this.desk.shop;
    const titleOf = (partId: string): string => parts.get(partId)?.title ?? partId;
    // A scanner may have its capitals the wrong way round.
    const named = rows.some((row) => row.bin === bin);
    const found = walkRows(bin === undefined ? matchRows(rows, this.text, (id) => parts.get(id)) : rows.filter((row) => row.bin === bin || (!named && squash(row.bin) === squash(bin))), titleOf);
    if (found.length === 0 && bin !== undefined) return html`<p>${shelfWords.binNone(bin)}</p>`;
    if (rows.length === 0 && this.text === '') return html`<p>${shelfWords.empty}</p>`;
    return html`${found.length === 0 ? nothing : html`<ul class="rows shelf-rows">${found.slice(0, MOST_ROWS).map((row) => html`<li><a class="row shelf-row" href="/shelf/part/${encodeURIComponent(row.partId)}">
        <span class="number shelf-bin">${row.bin}</span><span><span class="row-main">${titleOf(row.partId)}</span>${parts.has(row.partId) ? html` <span class="number quiet">${row.partId}</span>` : nothing}</span>
        <span class="row-state"><b class=${row.free < 0 ? 'not' : row.free === 0 ? 'quiet' : ''}>${shelfWords.free(row.free)}</b>${shelfWords.stands(row.onHand, row.reserved)}
          ${row.below ? html`<br><span class="not">${shelfWords.below}</span>` : nothing}</span></a></li>`)}</ul>`}
      ${found.length > MOST_ROWS ? html`<p class="quiet">${shelfWords.more(found.length - MOST_ROWS)}</p>` : nothing}
      ${this.text === '' || bin !== undefined ? nothing : this.#renderElsewhere(new Set(found.map(({ partId }) => partId)))}`;
  }

  #renderElsewhere(found: ReadonlySet<string>): TemplateResult {
    if (this.elsewhere === undefined) return html`<p role="status">${words.working}</p>`;
    const others = this.elsewhere.filter(({ id }) => !found.has(id));
    if (others.length === 0) return found.size > 0 ? html`` : html`<p role="status">${shelfWords.noneFound(this.text)}</p>`;
    return html`<h2>${shelfWords.elsewhere}</h2><ul class="rows">${others.map((part) => html`<li><a class="row" href="/shelf/part/${encodeURIComponent(part.id)}">
      <span class="row-main">${part.title}</span><span class="number">${part.id}</span></a></li>`)}</ul>`;
  }

  #renderWaiting(): TemplateResult | typeof nothing {
    const waiting = this.desk.device.waiting.filter(({ what }) => what === 'moves');
    return waiting.length === 0 ? nothing : html`<ul class="rows waiting-rows">${waiting.map((item) => html`<li><waiting-line .desk=${this.desk} .item=${item}></waiting-line></li>`)}</ul>`;
  }

  /** A label opens what it names; anything else is looked for. */
  #ask(asked: string): void {
    const text = asked.trim();
    const code = readShelfCode(text);
    this.said = '';
    if (code === undefined) {
      this.text = text;
      void this.#lookElsewhere(text);
      return;
    }
    this.typed = '';
    const rows = this.#books?.rows ?? [];
    const name = code.kind === 'bin' ? code.bin : code.partId;
    const named = rows.map((row) => (code.kind === 'bin' ? row.bin : row.partId));
    const known = named.includes(name) ? name : named.find((one) => squash(one) === squash(name)) ?? (code.kind === 'part' && this.desk.shop.parts.has(name) ? name : undefined);
    if (known === undefined && code.kind === 'part') this.said = shelfWords.stranger(text);
    else this.desk.go(`/shelf/${code.kind}/${encodeURIComponent(known ?? name)}`);
  }

  async #lookElsewhere(text: string): Promise<void> {
    this.elsewhere = text === '' ? [] : undefined;
    if (text === '') return;
    const { shop, engine } = this.desk;
    try {
      await shop.open();
      const { hits } = await engine.find(text);
      const ids = [...new Set(hits.map(({ partId }) => partId))].slice(0, MOST_ELSEWHERE);
      await shop.parts.fetch(ids);
      if (text === this.text) this.elsewhere = ids.flatMap((id) => shop.parts.get(id) ?? []);
    } catch (error) {
      if (text !== this.text) return;
      this.elsewhere = [];
      this.said = sayFault(error);
    }
  }
}
customElements.define('shelf-screen', ShelfScreen);

function renderAge(desk: Desk): TemplateResult | typeof nothing {
  const asOf = desk.device.ageOf('stock');
  return asOf === undefined ? nothing : html`<p class="mark-do">${shelfWords.asOf(formatMoment(asOf))}</p>`;
}
