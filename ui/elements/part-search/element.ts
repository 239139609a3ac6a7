import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { LIMITS, readShelfCode, type FindAnswer, type Part } from '../../../catalog-schema/index.ts';
import { ShelfBooks, type Desk } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { findWords } from '../../words/find-screen.ts';
import '../found-parts/element.ts';
import { PlainElement } from '../plain-element.ts';

const say = findWords;
type Hit = FindAnswer['hits'][number];
/** A person who types is not answered at every key, ms. */
const PAUSE_MS = 120;
const LEAST_TYPED = 2;
let searches = 0;

/**
 * `<part-search>`: a number as it was read, or words, in; parts out, while one types. A hand scanner types into it, the camera reads a code. Works
 * without a network once the catalogue is on the device.
 *
 * Properties: `desk` · `text` what is looked for · `act` (hit, part) => what can be done with a part. Event (bubbling): `part-asked` {text}, when it was entered.
 */
export class PartSearch extends PlainElement {
  static override properties = {
    desk: { attribute: false }, text: {}, act: { attribute: false },
    answer: { state: true }, asked: { state: true }, failed: { state: true }, busy: { state: true }, reading: { state: true },
  };
  declare desk: Desk;
  declare text: string;
  declare act: ((hit: Hit, part: Part) => TemplateResult) | undefined;
  declare answer: FindAnswer | undefined;
  declare asked: string;
  declare failed: string;
  declare busy: boolean;
  /** the reader's script is here */
  declare reading: boolean;
  #books: ShelfBooks | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #id = `part-search-${searches += 1}`;

  constructor() {
    super();
    Object.assign(this, { text: '', asked: '', failed: '', busy: false, reading: false });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#books ??= new ShelfBooks(this.desk);
    void this.#books.read();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('text')) void this.#find(this.text);
  }

  protected override render(): TemplateResult {
    return html`<form class="field" role="search" @submit=${(event: Event) => { event.preventDefault(); this.#enter(this.querySelector('input')!.value); }}>
        <label for=${this.#id}>${say.label}</label>
        <span class="field-row"><input id=${this.#id} type="search" enterkeyhint="search" .value=${this.text} autocomplete="off" autocapitalize="characters" spellcheck="false" maxlength=${LIMITS.stringCharacters}
          aria-describedby="${this.#id}-hint" @input=${(event: Event) => this.#type((event.target as HTMLInputElement).value)}><button class="main" type="submit">${words.find.act}</button></span>
        <small id="${this.#id}-hint">${say.hint}</small></form>
      <details @toggle=${(event: Event) => { if ((event.target as HTMLDetailsElement).open) void this.#openReader(); }}><summary>${say.camera}</summary>
        ${this.reading ? html`<code-reader .codes=${this.desk.codes} @code-read=${(event: CustomEvent<{ text: string }>) => this.#enter(event.detail.text)}></code-reader>` : nothing}</details>
      ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      <p class="visually-hidden" role="status">${this.busy ? say.looking : this.answer === undefined ? '' : say.count(this.answer.hits.length)}</p>
      ${this.answer === undefined ? nothing : html`<found-parts .desk=${this.desk} .books=${this.#books} .answer=${this.answer} .asked=${this.asked} .act=${this.act}></found-parts>`}`;
  }

  #type(text: string): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => { void this.#find(text.trim().length < LEAST_TYPED ? '' : text); }, PAUSE_MS);
  }

  #enter(text: string): void {
    clearTimeout(this.#timer);
    this.text = text;
    void this.#find(text);
    this.dispatchEvent(new CustomEvent('part-asked', { detail: { text }, bubbles: true }));
  }

  async #openReader(): Promise<void> {
    await import('../code-reader/element.ts');
    this.reading = true;
  }

  async #find(typed: string): Promise<void> {
    const text = typed.trim();
    if (text === this.asked && this.answer !== undefined) return;
    this.asked = text;
    this.failed = '';
    if (text === '') {
      this.answer = undefined;
      return;
    }
    this.busy = true;
    try {
      const { shop, engine } = this.desk;
      await shop.open();
      const label = readShelfCode(text);
      const answer = await engine.find(label?.kind === 'part' ? label.partId : text, shop.replacements);
      await shop.parts.fetch(answer.hits.flatMap(({ partId, currentIds }) => [partId, ...currentIds]));
      // What was typed since then is answered by itself.
      if (text === this.asked) this.answer = answer;
    } catch (error) {
      if (text === this.asked) this.failed = sayFault(error);
    } finally {
      if (text === this.asked) this.busy = false;
    }
  }
}
customElements.define('part-search', PartSearch);
