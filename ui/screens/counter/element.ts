import { html, nothing, type TemplateResult } from 'lit';
import type { FindAnswer, Part } from '../../../catalog-schema/index.ts';
import type { CounterSheet, Desk } from '../../client/index.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { blankRecord, counterTree, recordOfPart } from './record-of-part.ts';

const MOST_HITS = 12;

/** The counter: by a number, or from a blank record. No job is needed. */
export class CounterScreen extends PlainElement {
  static override properties = {
    desk: { attribute: false }, open: { attribute: false }, openSheet: { attribute: false }, throwAway: { attribute: false },
    answer: { state: true }, asked: { state: true }, failed: { state: true }, busy: { state: true },
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

  constructor() {
    super();
    this.asked = '';
    this.failed = '';
    this.busy = false;
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
      <div aria-live="polite">${this.answer === undefined ? nothing : this.#renderHits(this.answer)}</div>
    </main>`;
  }

  #renderHits(answer: FindAnswer): TemplateResult {
    const { parts } = this.desk.shop;
    const hits = answer.hits.flatMap((hit) => {
      const part = parts.get(hit.partId);
      return part === undefined ? [] : [{ hit, part }];
    }).slice(0, MOST_HITS);
    if (hits.length === 0) return html`<p>${words.counter.noHits(this.asked)}</p>`;
    return html`<p class="quiet">${words.counter.recordFrom}</p><ul class="rows">${hits.map(({ hit, part }) => html`<li class="row row-hit">
      <span class="row-main">${part.title}</span>
      <span class="row-what">${hit.issuer} <b class="number">${hit.number}</b>, ${words.counter.hows[hit.how]}${this.#renderSuccessors(part, hit.currentIds)}</span>
      <button type="button" @click=${() => this.#startFrom(part)}>${words.counter.startFrom}</button></li>`)}</ul>`;
  }

  #renderSuccessors(part: Part, currentIds: readonly string[]): TemplateResult | typeof nothing {
    const others = currentIds.filter((id) => id !== part.id).map((id) => this.desk.shop.parts.get(id)?.title ?? id);
    return others.length === 0 ? nothing : html`<br><span class="mark-do">${words.counter.superseded(words.list(others))}</span>`;
  }

  #startFrom(part: Part): void {
    this.openSheet(counterTree(words.counter.fromPart(part.title), recordOfPart(part)));
  }

  async #find(form: HTMLFormElement): Promise<void> {
    const text = String(new FormData(form).get('number') ?? '').trim();
    if (text === '' || this.busy) return;
    this.busy = true;
    this.failed = '';
    try {
      await this.desk.shop.open();
      this.answer = await this.desk.engine.find(text);
      this.asked = text;
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }
}
customElements.define('counter-screen', CounterScreen);
