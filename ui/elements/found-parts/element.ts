import { html, nothing, type TemplateResult } from 'lit';
import type { FindAnswer, Part, StockRow } from '../../../catalog-schema/index.ts';
import type { Desk, ShelfBooks } from '../../client/index.ts';
import { words } from '../../words.ts';
import { findWords } from '../../words/find-screen.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import './found-parts.css';

const say = findWords;
type Hit = FindAnswer['hits'][number];
type Group = keyof typeof say.groups;

/** Shown at first; a technician reads no longer list. */
const FIRST = 8;
const GROUP_OF: Readonly<Record<Hit['how'], Group>> = { same: 'number', normalised: 'number', replaces: 'claims', 'likely-misread': 'near', similar: 'near', words: 'words' };

/**
 * `<found-parts>`: what a look-up found, each part with how it was found, what it was replaced by and where it lies.
 *
 * Properties: `desk` · `books` the shelf's · `answer` of `find` · `asked` its text · `act` (hit, part) => what can be done with it; a link to the shelf where absent.
 */
export class FoundParts extends PlainElement {
  static override properties = {
    desk: { attribute: false }, books: { attribute: false }, answer: { attribute: false }, asked: {}, act: { attribute: false }, all: { state: true },
  };
  declare desk: Desk;
  declare books: ShelfBooks | undefined;
  declare answer: FindAnswer;
  declare asked: string;
  declare act: ((hit: Hit, part: Part) => TemplateResult) | undefined;
  declare all: boolean;

  constructor() {
    super();
    this.asked = '';
    this.all = false;
    followChanges(this, () => [this.desk?.shop, this.books]);
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('answer')) this.all = false;
  }

  protected override render(): TemplateResult {
    const { hits, cautions } = this.answer;
    const shown = this.all ? hits : hits.slice(0, FIRST);
    const groups = [...new Set(shown.map(({ how }) => GROUP_OF[how]))];
    return html`${cautions.map((line) => html`<p class="found-note">${line}</p>`)}
      ${hits.length === 0 ? html`<p><b>${say.none(this.asked.slice(0, 80))}</b> ${say.noneNext} <a href="/counter">${say.toCounter}</a></p>` : nothing}
      ${groups.map((group) => html`<section class="found-group"><h2>${group === 'near' && groups[0] === 'near' ? html`${say.nearOnly} <small>${say.groups.near}</small>` : say.groups[group]}</h2>
        <ul class="rows">${shown.filter(({ how }) => GROUP_OF[how] === group).map((hit) => this.#renderHit(hit))}</ul></section>`)}
      ${hits.length > shown.length ? html`<p><button type="button" class="plain" @click=${() => { this.all = true; }}>${say.more(hits.length - shown.length)}</button></p>` : nothing}`;
  }

  #renderHit(hit: Hit): TemplateResult {
    const part = this.desk.shop.parts.get(hit.partId);
    const title = part?.title ?? hit.partId;
    return html`<li class="row found-part">
      <span class="found-what"><span class="row-main">${title}</span><br>
        ${hit.issuer === '' ? nothing : html`${hit.issuer} `}<b class="number found-number">${hit.number}</b>${hit.how === 'words' ? nothing : html`, <span class=${hit.how === 'likely-misread' || hit.how === 'similar' ? 'mark-do' : ''}>${this.#sayHow(hit)}</span>`}
        ${hit.claim === undefined ? nothing : html`<br><span class="quiet">${say.claimed(hit.claim.source)}</span>`}
        ${hit.shop === undefined ? nothing : html`<br>${say.held(hit.shop.held, hit.shop.cameBack, hit.shop.forNumber)}`}
        ${this.#renderSuccessors(hit)}</span>
      <span class="found-place">${this.#sayPlace(hit.partId)}</span>
      ${part === undefined ? html`<span></span>` : this.act?.(hit, part) ?? html`<a class="button" href="/shelf/part/${encodeURIComponent(hit.partId)}" aria-label=${say.showName(title, hit.number)}>${say.show}</a>`}</li>`;
  }

  #sayHow({ how, changes }: Hit): string {
    return changes === undefined || changes.length === 0 ? say.hows[how] : `${say.hows[how]}: ${words.list(changes.map(say.change))}`;
  }

  #renderSuccessors({ partId, currentIds }: Hit): TemplateResult | typeof nothing {
    const others = currentIds.filter((id) => id !== partId);
    if (others.length === 0) return nothing;
    const names = others.map((id) => `${this.desk.shop.parts.get(id)?.title ?? id} (${id}; ${this.#sayPlace(id)})`);
    return html`<br><span class="mark-do">${others.length === 1 ? say.replaced(names[0]!) : say.kit(words.list(names))}</span>`;
  }

  #sayPlace(partId: string): string {
    const rows = this.books?.rows?.filter((row: StockRow) => row.partId === partId) ?? [];
    return rows.length === 0 ? say.nowhere : words.list(rows.map(({ bin, free }) => say.place(bin, shelfWords.free(free))));
  }
}
customElements.define('found-parts', FoundParts);
