import { html, nothing, type TemplateResult } from 'lit';
import { printShelfCode, type ShelfCode, type StockRow } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { compareBins, walkRows } from '../../screens/shelf/match-rows.ts';
import { words } from '../../words.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { renderChoices } from '../choices.ts';
import '../code-reader/element.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { CountSheet } from './count-sheet.ts';
import { readScan } from './read-scan.ts';
import './shelf-count.css';

const { counting: say } = shelfWords;
type Step = 'count' | 'differences';

/**
 * `<shelf-count>`: counting a bin or the whole shelf, by scanner, camera or hand; the differences are seen before they are booked.
 *
 * Properties: `desk` · `books` · `bin` counted alone where it is named. No events.
 */
export class ShelfCount extends PlainElement {
  static override properties = {
    desk: { attribute: false }, books: { attribute: false }, bin: {}, sheet: { state: true }, step: { state: true }, whole: { state: true }, chosen: { state: true }, typed: { state: true },
    why: { state: true }, who: { state: true }, said: { state: true }, strange: { state: true }, failed: { state: true }, busy: { state: true },
  };
  declare desk: Desk;
  declare books: ShelfBooks;
  declare bin: string | undefined;
  declare sheet: CountSheet | undefined;
  declare step: Step;
  declare whole: boolean;
  declare chosen: string;
  declare typed: string;
  declare why: string;
  declare who: string;
  declare said: string;
  declare strange: boolean;
  declare failed: string;
  declare busy: boolean;
  /** the part that was scanned last */
  #last: { readonly partId: string; readonly bin: string } | undefined;

  constructor() {
    super();
    Object.assign(this, { step: 'count', whole: true, chosen: '', typed: '', why: '', who: '', said: '', strange: false, failed: '', busy: false });
    followChanges(this, () => [this.books, this.desk?.shop, this.desk?.device, this.desk?.settings]);
  }

  /** A scanner that types where no field has the focus counts too. */
  #heard = (event: Event): void => {
    if (this.sheet === undefined) return;
    event.preventDefault();
    this.#take(printShelfCode((event as CustomEvent<ShelfCode>).detail));
  };

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('shelf-scan', this.#heard);
    this.sheet ??= CountSheet.restore(storageOf());
    if (this.bin === undefined) return;
    // A count that was begun goes on, at the bin that was asked for where it is of the whole shelf; one with nothing in it is no count.
    if (this.sheet === undefined || (this.sheet.scope !== undefined && this.sheet.rows.length === 0)) this.#begin(this.bin);
    else if (this.sheet.scope === undefined) this.sheet.goTo(this.bin);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('shelf-scan', this.#heard);
  }

  protected override render(): TemplateResult {
    const { rows } = this.books;
    return html`<p><a href="/shelf">${shelfWords.part.back}</a></p>
      <h1>${this.sheet?.scope === undefined ? say.title : `${say.title}: ${shelfWords.bin(this.sheet.scope)}`}</h1>
      ${rows === undefined ? html`<p role="status">${this.books.fault === undefined ? words.loading : sayFault(this.books.fault)}</p>`
        : this.sheet === undefined ? this.#renderBegin(rows) : this.step === 'differences' ? this.#renderDifferences(this.sheet, rows) : this.#renderCount(this.sheet, rows)}
      <p role="status" aria-live="polite" class=${this.strange ? 'not' : 'mark-do'}>${this.said}</p>`;
  }

  #renderBegin(rows: readonly StockRow[]): TemplateResult {
    const bins = [...new Set(rows.map((row) => row.bin))].toSorted(compareBins);
    return html`<p>${say.lead}</p><form class="stack" @submit=${(event: Event) => { event.preventDefault(); this.#begin(this.whole ? undefined : this.chosen.trim() || bins[0]); }}>
      ${renderChoices({ name: 'count-which', legend: say.which, value: this.whole ? 'whole' : 'one', choices: [{ value: 'whole', label: say.whole }, { value: 'one', label: say.one }], onChoose: (value) => { this.whole = value === 'whole'; } })}
      ${this.whole ? nothing : html`<div class="field"><label for="count-bin">${say.bin}</label><select id="count-bin" @change=${(event: Event) => { this.chosen = (event.target as HTMLSelectElement).value; }}>
        ${bins.map((bin) => html`<option value=${bin}>${bin}</option>`)}</select></div>`}
      <p><button class="main">${say.begin}</button></p></form>`;
  }

  #renderCount(sheet: CountSheet, rows: readonly StockRow[]): TemplateResult {
    const shown = this.#shownRows(sheet, rows);
    const done = shown.filter(({ partId, bin }) => sheet.find(partId, bin) !== undefined).length;
    return html`<form class="field count-scan" @submit=${(event: Event) => { event.preventDefault(); this.#take(this.typed); }}>
        <label for="count-scan">${say.scan}</label>
        <span class="field-row"><input id="count-scan" .value=${this.typed} autocomplete="off" autocapitalize="off" spellcheck="false" maxlength="2000" aria-describedby="count-scan-hint"
          @input=${(event: Event) => { this.typed = (event.target as HTMLInputElement).value; }}><button>${say.take}</button></span>
        <small id="count-scan-hint">${say.scanHint}</small></form>
      <details class="shelf-camera"><summary>${shelfWords.readLabel}</summary><code-reader .codes=${this.desk.codes} .goesOn=${true} .answer=${this.said} @code-read=${(event: CustomEvent<{ text: string }>) => this.#take(event.detail.text)}></code-reader></details>
      <p class="count-here">${sheet.here === undefined ? say.nowhere : html`<b>${say.at(sheet.here)}</b>`}</p>
      <ul class="rows">${shown.map(({ partId, bin }) => this.#renderRow(sheet, rows, partId, bin))}</ul>
      <div class="count-foot"><p>${say.progress(done, shown.length)}<br><small>${say.kept}</small></p>
        <p class="button-row"><button type="button" class="main" ?disabled=${sheet.rows.length === 0} @click=${() => this.#show()}>${say.show}</button>
          <button type="button" class="plain" @click=${() => this.#end(sheet)}>${say.away}</button></p></div>`;
  }

  #renderRow(sheet: CountSheet, rows: readonly StockRow[], partId: string, bin: string): TemplateResult {
    const title = this.#titleOf(partId);
    const counted = sheet.find(partId, bin)?.counted;
    const row = rows.find((one) => one.partId === partId && one.bin === bin);
    const set = (value: number | undefined): void => { sheet.set(partId, bin, value, row, this.desk.now().toISOString()); this.said = ''; this.requestUpdate(); };
    return html`<li class="row count-row ${bin === sheet.here ? 'count-row-here' : ''}"><span class="number shelf-bin">${bin}</span>
      <span><span class="row-main">${title}</span>${title === partId ? nothing : html` <span class="number quiet">${partId}</span>`}</span>
      <span class="button-row"><input class="short" inputmode="numeric" aria-label=${say.field(title, bin)} placeholder=${say.notCounted} .value=${counted === undefined ? '' : String(counted)} maxlength="6"
          @change=${(event: Event) => { const text = (event.target as HTMLInputElement).value.trim(); set(/^\d{1,6}$/.test(text) ? Number(text) : undefined); }}>
        ${counted === undefined ? html`<button type="button" @click=${() => set(0)}>${say.noneThere}</button>` : nothing}</span></li>`;
  }

  #renderDifferences(sheet: CountSheet, rows: readonly StockRow[]): TemplateResult {
    const { currency } = this.books;
    const differ = sheet.rows.filter(({ counted, booked }) => counted !== booked).toSorted((a, b) => compareBins(a.bin, b.bin));
    const costOf = (partId: string, bin: string): number => (rows.find((row) => row.partId === partId && row.bin === bin) ?? rows.find((row) => row.partId === partId))?.unitCost ?? 0;
    const worthOf = ({ partId, bin, counted, booked }: (typeof differ)[number]): number => (counted - booked) * costOf(partId, bin);
    const left = this.#shownRows(sheet, rows).length - sheet.rows.length;
    const name = this.desk.settings.values.author;
    return html`<h2 id="count-differences" tabindex="-1">${say.differences}</h2>
      ${differ.length === 0 ? html`<p>${say.noDifference}</p>` : html`<div class="moves-scroll" tabindex="0" role="region" aria-labelledby="count-differences"><table class="moves"><thead><tr>${Object.values(say.table).map((word) => html`<th scope="col">${word}</th>`)}</tr></thead>
        <tbody>${differ.map((row) => html`<tr><td>${this.#titleOf(row.partId)}</td><td class="number">${row.bin}</td><td class="number">${row.booked}</td><td class="number">${row.counted}</td>
          <td class="number"><b class=${row.counted < row.booked ? 'not' : ''}>${row.counted > row.booked ? '+' : '−'}${Math.abs(row.counted - row.booked)}</b></td><td class="number">${formatMoney(worthOf(row), currency)}</td></tr>`)}</tbody></table></div>
        <p>${say.worth(formatMoney(differ.reduce((sum, row) => sum + worthOf(row), 0), currency))}</p>`}
      <p>${say.agree(sheet.rows.length - differ.length)}${left > 0 ? html` ${say.left(left)}` : nothing}</p>
      <form class="stack" @submit=${(event: Event) => { event.preventDefault(); void this.#book(sheet); }}>
        <div class="field"><label for="count-why">${say.why}</label><input id="count-why" maxlength="500" .value=${this.why} placeholder=${say.whyDefault} @input=${(event: Event) => { this.why = (event.target as HTMLInputElement).value; }}></div>
        ${name !== '' ? nothing : html`<div class="field"><label for="count-who">${say.who}</label><input id="count-who" maxlength="200" .value=${this.who} @input=${(event: Event) => { this.who = (event.target as HTMLInputElement).value; }}></div>`}
        ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
        <p class="button-row"><button class="main" ?disabled=${this.busy}>${say.book(sheet.rows.length)}</button>
          <button type="button" @click=${() => { this.step = 'count'; }}>${say.back}</button></p></form>`;
  }

  /** What the books have in the bins that are counted, and what was found beside it. */
  #shownRows(sheet: CountSheet, rows: readonly StockRow[]): { partId: string; bin: string }[] {
    const inScope = walkRows(rows.filter((row) => sheet.scope === undefined || row.bin === sheet.scope), (id) => this.#titleOf(id));
    const found = sheet.rows.filter(({ partId, bin }) => !inScope.some((row) => row.partId === partId && row.bin === bin));
    const all = [...inScope, ...found].toSorted((a, b) => compareBins(a.bin, b.bin));
    return sheet.here === undefined || sheet.scope !== undefined ? all : [...all.filter(({ bin }) => bin === sheet.here), ...all.filter(({ bin }) => bin !== sheet.here)];
  }

  #titleOf(partId: string): string { return this.desk.shop.parts.get(partId)?.title ?? partId; }

  #begin(scope: string | undefined): void {
    this.sheet = new CountSheet({ scope, at: this.desk.now().toISOString() }, storageOf());
    if (scope !== undefined) this.sheet.goTo(scope);
    Object.assign(this, { step: 'count', said: '', failed: '', strange: false });
    void this.updateComplete.then(() => this.querySelector<HTMLElement>('#count-scan')?.focus());
  }

  #take(text: string): void {
    const { sheet, books, desk } = this;
    if (sheet === undefined || text.trim() === '') return;
    this.typed = '';
    this.strange = false;
    const rows = books.rows ?? [];
    const scan = readScan(text, rows, (id) => desk.shop.parts.get(id));
    switch (scan.kind) {
      case 'bin':
        sheet.goTo(scan.bin);
        this.#last = undefined;
        this.said = say.nowAt(scan.bin);
        break;
      case 'part': {
        if (sheet.here === undefined) {
          Object.assign(this, { said: say.nowhere, strange: true });
          break;
        }
        const { here } = sheet;
        const count = sheet.addOne(scan.partId, here, rows.find((row) => row.partId === scan.partId && row.bin === here), desk.now().toISOString());
        this.#last = { partId: scan.partId, bin: here };
        this.said = say.counted(this.#titleOf(scan.partId), count, here);
        break;
      }
      case 'several': Object.assign(this, { said: say.several(text, scan.count), strange: true }); break;
      case 'strange':
        // A number after a part is how many of it lie there.
        if (this.#last !== undefined && /^\d{1,4}$/.test(text.trim())) {
          const { partId, bin } = this.#last;
          sheet.set(partId, bin, Number(text), rows.find((row) => row.partId === partId && row.bin === bin), desk.now().toISOString());
          this.said = say.counted(this.#titleOf(partId), Number(text), bin);
          break;
        }
        Object.assign(this, { said: say.strange(text), strange: true });
    }
    this.requestUpdate();
  }

  #show(): void {
    Object.assign(this, { step: 'differences', said: '', strange: false });
    void this.updateComplete.then(() => this.querySelector<HTMLElement>('#count-differences')?.focus());
  }

  #end(sheet: CountSheet): void {
    sheet.end();
    Object.assign(this, { sheet: undefined, step: 'count', said: '' });
  }

  async #book(sheet: CountSheet): Promise<void> {
    const by = this.desk.settings.values.author || this.who.trim();
    if (by === '') {
      this.failed = say.needWho;
      this.querySelector<HTMLElement>('#count-who')?.focus();
      return;
    }
    if (this.busy) return;
    this.busy = true;
    this.failed = '';
    try {
      const went = await this.books.bookAt(sheet.moves(this.why.trim() || say.whyDefault), by);
      sheet.end();
      Object.assign(this, { sheet: undefined, step: 'count', why: '', said: went === 'waiting' ? words.offline.kept.moves : say.booked });
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }
}
customElements.define('shelf-count', ShelfCount);

/** Undefined where the browser bars it. */
function storageOf(): Storage | undefined {
  try { return localStorage; } catch { return undefined; }
}
