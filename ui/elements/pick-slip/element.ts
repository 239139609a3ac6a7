import { html, nothing, type TemplateResult } from 'lit';
import { printShelfCode } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import '../code-label/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { changeQty, sellSlip, type SlipLine } from './slip.ts';
import './pick-slip.css';

const { counter: say } = shelfWords;

/**
 * `<pick-slip>`: what goes over the counter: lines with their bins, booked out and printed with one touch. Printing prints it alone.
 *
 * Properties: `desk` · `books` · `lines` SlipLine[]. Events (bubbling): `slip-changed` {lines}; `slip-done`: the next customer.
 */
export class PickSlip extends PlainElement {
  static override properties = { desk: { attribute: false }, books: { attribute: false }, lines: { attribute: false }, whom: { state: true }, sold: { state: true }, said: { state: true }, failed: { state: true }, busy: { state: true } };
  declare desk: Desk;
  declare books: ShelfBooks;
  declare lines: readonly SlipLine[];
  declare whom: string;
  /** when it was booked out, ISO 8601 */
  declare sold: string | undefined;
  declare said: string;
  declare failed: string;
  declare busy: boolean;

  constructor() {
    super();
    this.lines = [];
    this.whom = '';
    this.said = '';
    this.failed = '';
    this.busy = false;
    followChanges(this, () => [this.books, this.desk?.shop]);
  }

  protected override render(): TemplateResult | typeof nothing {
    const { lines, sold } = this;
    if (lines.length === 0) return nothing;
    const units = lines.reduce((sum, { qty }) => sum + qty, 0);
    return html`<section class="slip screen-only" aria-labelledby="slip-title"><h2 id="slip-title">${say.slip}</h2>
        <ul class="rows">${lines.map((line) => this.#renderLine(line))}</ul>
        ${sold !== undefined ? nothing : html`<div class="field"><label for="slip-whom">${say.whom}</label><input id="slip-whom" maxlength="200" autocomplete="off" .value=${this.whom} aria-describedby="slip-whom-hint"
          @input=${(event: Event) => { this.whom = (event.target as HTMLInputElement).value; }}><small id="slip-whom-hint">${say.whomHint}</small></div>`}
        ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
        <p role="status" class="mark-do">${this.said}</p>
        <p class="button-row">${sold === undefined ? html`<button type="button" class="main" ?disabled=${this.busy} @click=${() => { void this.#sell(); }}>${say.sell(units)}</button>`
          : html`<button type="button" class="main" @click=${() => this.#done()}>${say.anew}</button><button type="button" @click=${() => print()}>${say.again}</button>`}</p></section>
      ${this.#renderPaper(sold ?? this.desk.now().toISOString())}`;
  }

  #renderLine({ partId, bin, qty }: SlipLine): TemplateResult {
    const title = this.#titleOf(partId);
    const free = this.books.rows?.find((row) => row.partId === partId && row.bin === bin)?.free ?? 0;
    const change = (by: number): void => { this.dispatchEvent(new CustomEvent('slip-changed', { detail: { lines: changeQty(this.lines, partId, bin, by) }, bubbles: true })); };
    return html`<li class="row slip-row"><span class="number shelf-bin">${bin}</span><span class="row-main">${title}</span>
      <span class="count">${this.sold !== undefined ? html`<output>${qty}</output>` : html`<button type="button" aria-label="${title}: ${say.fewer}" @click=${() => change(-1)}>−</button><output>${qty}</output>
        <button type="button" aria-label="${title}: ${say.another}" ?disabled=${qty >= free} @click=${() => change(1)}>+</button>`}</span></li>`;
  }

  #renderPaper(at: string): TemplateResult {
    const name = this.desk.settings.values.author;
    return html`<article class="slip-paper"><h1>${say.slip}</h1><p>${[formatMoment(at), ...(name === '' ? [] : [name]), ...(this.whom.trim() === '' ? [] : [say.forWhom(this.whom.trim())])].join(' · ')}</p>
      <table><thead><tr>${Object.values(say.table).map((word) => html`<th scope="col">${word}</th>`)}</tr></thead><tbody>${this.lines.map(({ partId, bin, qty, open }) => html`<tr>
        <td class="slip-bin">${bin}</td><td><b>${this.#titleOf(partId)}</b><br>${[partId, ...(this.desk.shop.parts.get(partId)?.numbers ?? []).map(({ issuer, number }) => `${issuer} ${number}`)].join(' · ')}
          ${open.length === 0 ? nothing : html`<br>${say.open(words.list(open.map((criterion) => words.criteria[criterion])))}`}</td>
        <td class="slip-bin">${qty}</td><td><code-label .text=${printShelfCode({ kind: 'part', partId })} .kind=${'qr'} .label=${partId} .moduleMm=${0.4}></code-label></td></tr>`)}</tbody></table>
      <p>${say.before}</p></article>`;
  }

  #titleOf(partId: string): string { return this.desk.shop.parts.get(partId)?.title ?? partId; }

  async #sell(): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    this.failed = '';
    try {
      const went = await this.books.book(sellSlip(this.lines, this.desk.newId(), this.whom.trim()));
      this.sold = this.desk.now().toISOString();
      this.said = went === 'waiting' ? words.offline.kept.moves : say.sold;
      await this.updateComplete;
      print();
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }

  #done(): void {
    Object.assign(this, { sold: undefined, whom: '', said: '', failed: '' });
    this.dispatchEvent(new CustomEvent('slip-done', { bubbles: true }));
  }
}
customElements.define('pick-slip', PickSlip);
