import { html, nothing, type TemplateResult } from 'lit';
import { readShelfCode, type BenchRecord, type FindAnswer, type Part } from '../../../catalog-schema/index.ts';
import { ShelfBooks, type CounterSheet, type Desk } from '../../client/index.ts';
import '../../elements/found-parts/element.ts';
import '../../elements/pick-slip/element.ts';
import { putOnSlip, type SlipLine } from '../../elements/pick-slip/slip.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/shelf-fits/element.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { blankRecord, counterTree, recordOfPart } from './record-of-part.ts';

type Hit = FindAnswer['hits'][number];
/** What is looked for on the shelf: by a number, or by what was measured. */
interface Sought { readonly record: BenchRecord; readonly part?: Part; readonly known?: { readonly partId: string; readonly currentIds: readonly string[] } }

/** The counter: a number or an open sheet in; what fits and lies on the shelf, and the slip to fetch it by, out. No job is needed. */
export class CounterScreen extends PlainElement {
  static override properties = {
    desk: { attribute: false }, open: { attribute: false }, openSheet: { attribute: false }, throwAway: { attribute: false },
    answer: { state: true }, asked: { state: true }, failed: { state: true }, busy: { state: true }, sought: { state: true }, lines: { state: true },
  };
  declare desk: Desk;
  /** the sheet that is open already, when there is one */
  declare open: CounterSheet | undefined;
  declare openSheet: (tree: ReturnType<typeof counterTree>) => void;
  declare throwAway: () => void;
  declare answer: FindAnswer | undefined;
  declare asked: string;
  declare failed: string;
  declare busy: boolean;
  declare sought: Sought | undefined;
  declare lines: readonly SlipLine[];
  #books: ShelfBooks | undefined;

  constructor() {
    super();
    this.asked = '';
    this.failed = '';
    this.busy = false;
    this.lines = [];
    followChanges(this, () => [this.desk?.shop, this.#books]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#books ??= new ShelfBooks(this.desk);
    void this.#books.read();
    if (this.open !== undefined) this.sought = { record: this.open.record };
  }

  protected override render(): TemplateResult {
    return html`<main id="sheet" tabindex="-1">
      <h1>${words.counter.title}</h1><p>${words.counter.lead}</p>
      ${this.open === undefined ? nothing : html`<p class="button-row"><a class="button main" href="/counter/bench">${words.counter.open}</a>
        <button type="button" class="plain" @click=${() => this.throwAway()}>${words.counter.leave}</button></p>`}
      <section class="halves">
        <div><h2>${words.counter.byNumber}</h2>
          <form class="field" @submit=${(event: SubmitEvent) => { event.preventDefault(); void this.#find(event.target as HTMLFormElement); }}>
            <label for="counter-number">${words.counter.numberField}</label>
            <span class="field-row"><input id="counter-number" name="number" autocomplete="off" autocapitalize="characters" spellcheck="false"
              maxlength="60" aria-describedby="counter-number-hint"><button class="main" type="submit" ?disabled=${this.busy}>${words.counter.find}</button></span>
            <small id="counter-number-hint">${words.counter.numberHint}</small>
          </form></div>
        <div><h2>${words.counter.noNumber}</h2><p class="quiet">${words.counter.noNumberHint}</p>
          <button type="button" @click=${() => this.openSheet(counterTree(words.counter.sheetTitle, blankRecord('start-relay', 12)))}>${words.counter.blank}</button></div>
      </section>
      ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      <div aria-live="polite">${this.answer === undefined || this.sought !== undefined ? nothing : html`<found-parts .desk=${this.desk} .books=${this.#books} .answer=${this.answer} .asked=${this.asked}
        .act=${(hit: Hit, part: Part) => html`<button type="button" aria-label="${words.counter.thisOne}: ${part.title}, ${hit.number}" @click=${() => this.#choose(part, hit.currentIds)}>${words.counter.thisOne}</button>`}></found-parts>`}</div>
      ${this.sought === undefined ? nothing : this.#renderShelf(this.sought)}
      <pick-slip .desk=${this.desk} .books=${this.#books} .lines=${this.lines} @slip-changed=${(event: CustomEvent<{ lines: SlipLine[] }>) => { this.lines = event.detail.lines; }}
        @slip-done=${() => this.#startAnew()}></pick-slip>
    </main>`;
  }

  #renderShelf({ record, part, known }: Sought): TemplateResult {
    return html`<section aria-labelledby="counter-shelf"><h2 id="counter-shelf">${shelfWords.counter.onShelf}${part === undefined ? nothing : html` <small>${shelfWords.counter.forPart(part.title)}</small>`}</h2>
      <shelf-fits .desk=${this.desk} .books=${this.#books} .record=${record} .known=${known}
        @slip-put=${(event: CustomEvent<Omit<SlipLine, 'qty'>>) => this.#put(event.detail)}></shelf-fits>
      ${part === undefined ? nothing : html`<p class="quiet">${words.counter.recordFrom}</p>`}
      <p class="button-row">${part === undefined ? nothing : html`<button type="button" @click=${() => this.#startFrom(part)}>${words.counter.startFrom}</button>`}
        ${this.answer === undefined || this.answer.hits.length < 2 ? nothing : html`<button type="button" class="plain" @click=${() => { this.sought = undefined; }}>${shelfWords.counter.which}</button>`}</p></section>`;
  }

  #choose(part: Part, currentIds: readonly string[]): void {
    this.sought = { record: recordOfPart(part), part, known: { partId: part.id, currentIds } };
  }

  #put(line: Omit<SlipLine, 'qty'>): void {
    this.lines = putOnSlip(this.lines, line);
    void this.updateComplete.then(() => this.querySelector('pick-slip')?.scrollIntoView({ block: 'nearest' }));
  }

  #startFrom(part: Part): void {
    this.openSheet(counterTree(words.counter.fromPart(part.title), recordOfPart(part)));
  }

  #startAnew(): void {
    Object.assign(this, { lines: [], answer: undefined, sought: undefined });
    const field = this.querySelector<HTMLInputElement>('#counter-number');
    if (field === null) return;
    field.value = '';
    field.focus();
  }

  async #find(form: HTMLFormElement): Promise<void> {
    const text = String(new FormData(form).get('number') ?? '').trim();
    if (text === '' || this.busy) return;
    this.busy = true;
    this.failed = '';
    this.sought = undefined;
    try {
      const { shop, engine } = this.desk;
      await shop.open();
      const code = readShelfCode(text);
      if (code?.kind === 'part') {
        await shop.parts.fetch([code.partId]);
        const named = shop.parts.get(code.partId);
        if (named !== undefined) {
          this.answer = undefined;
          this.#choose(named, []);
          return;
        }
      }
      this.answer = await engine.find(text, shop.replacements);
      this.asked = text;
      await shop.parts.fetch(this.answer.hits.flatMap(({ partId, currentIds }) => [partId, ...currentIds]));
      const hit = nameOnly(this.answer.hits);
      const part = hit === undefined ? undefined : shop.parts.get(hit.partId);
      if (hit !== undefined && part !== undefined) this.#choose(part, hit.currentIds);
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }
}
customElements.define('counter-screen', CounterScreen);

/** The part a number names, where it names one and nothing had to be guessed. */
function nameOnly(hits: readonly Hit[]): Hit | undefined {
  const exact = hits.filter(({ how }) => how === 'same' || how === 'normalised');
  const ids = new Set(exact.map(({ partId }) => partId));
  return ids.size === 1 ? exact[0] : undefined;
}
