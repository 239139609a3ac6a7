import { html, nothing, type TemplateResult } from 'lit';
import { readQuantity, type JobConflict, type JsonValue } from '../../../catalog-schema/index.ts';
import type { ChangeResult, LengthUnit, WorkSheet } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';
import { dimensionOf, sayEntry, sayField } from '../say-entry.ts';
import { renderWireSwatch } from '../wire-swatch.ts';

/** Longest value on a button; the whole stands beside it. */
const ON_BUTTON = 40;
let entries = 0;

/** One field with two answers or more: what stands, what waits, who wrote each and when. A person keeps one, takes another, or writes a third. */
export class ChoiceEntry extends PlainElement {
  static override properties = { conflicts: { attribute: false }, sheet: { attribute: false }, device: {}, unit: {}, failed: { state: true }, text: { state: true } };
  /** all of one field */
  declare conflicts: readonly JobConflict[];
  declare sheet: WorkSheet;
  /** this device's id, as it stands beside edits */
  declare device: string | undefined;
  declare unit: LengthUnit;
  declare failed: string;
  declare text: string;
  #id = `choice-${entries += 1}`;

  constructor() {
    super();
    this.failed = '';
    this.text = '';
  }

  protected override render(): TemplateResult | typeof nothing {
    const [first] = this.conflicts;
    if (first === undefined) return nothing;
    const { field, standing } = first;
    const faults = [...new Set(this.conflicts.flatMap((conflict) => conflict.faults))];
    return html`<div class="answers" role="group" aria-labelledby=${this.#id}>
      <p class="choice-field" id=${this.#id}>${sayField(field, standing.value ?? first.held.value)}</p>
      <p class="quiet">${words.conflicts.why[first.why]}</p>
      ${faults.length === 0 ? nothing : html`<ul class="choice-faults">${faults.map((line) => html`<li>${line}</li>`)}</ul>`}
      <div class="choice-sides">
        ${this.#renderSide(words.conflicts.stands, standing, standing.value === null ? words.conflicts.keepNothing : words.conflicts.keep(this.#short(standing.value)), first.editId)}
        ${this.conflicts.map(({ held, editId }) => this.#renderSide(words.conflicts.waits, held,
          held.value === null ? words.conflicts.takeAway : words.conflicts.take(this.#short(held.value)), editId))}
      </div>
      ${this.#renderThird(first)}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${words.conflicts.cannotTake} ${this.failed}</p>`}
    </div>`;
  }

  #renderSide(name: string, side: JobConflict['standing'], button: string, editId: string): TemplateResult {
    const { field } = this.conflicts[0]!;
    const said = sayEntry(field, side.value, this.unit);
    const where = side.device === undefined ? '' : side.device === this.device ? words.conflicts.here : words.conflicts.elsewhere;
    return html`<div class="choice-side"><p class="choice-name">${name}</p>
      <p class="choice-value">${field.at(-1) === 'colour' && typeof side.value === 'string' ? html`${renderWireSwatch(side.value)} ` : nothing}${said === '' ? html`<i>${words.conflicts.nothing}</i>` : said}</p>
      <p class="quiet">${words.conflicts.by(side.author ?? '', where, side.at === undefined ? '' : formatMoment(side.at))}</p>
      <button type="button" @click=${() => this.#choose(editId, side.value)}>${button}</button></div>`;
  }

  /** A third answer can be typed where the answers are a text or a number. */
  #renderThird({ standing, held, editId }: JobConflict): TemplateResult | typeof nothing {
    const kinds = [standing.value, held.value].filter((value) => value !== null).map((value) => typeof value);
    if (kinds.some((kind) => kind !== 'string' && kind !== 'number')) return nothing;
    const isNumber = kinds.includes('number');
    return html`<details class="choice-third"><summary>${words.conflicts.third}</summary>
      <form class="field" @submit=${(event: Event) => { event.preventDefault(); this.#chooseThird(editId, isNumber); }}>
        <label class="visually-hidden" for="${this.#id}-third">${words.conflicts.third}</label>
        <div class="field-row"><input id="${this.#id}-third" .value=${this.text} autocomplete="off" maxlength="2000" inputmode=${isNumber ? 'decimal' : 'text'}
          @input=${(event: Event) => { this.text = (event.target as HTMLInputElement).value; }}>
        <button>${words.conflicts.thirdSave}</button></div></form></details>`;
  }

  #chooseThird(editId: string, isNumber: boolean): void {
    const text = this.text.trim();
    if (text === '') return;
    if (!isNumber) return this.#choose(editId, text);
    const read = readQuantity(text, dimensionOf(this.conflicts[0]!.field.at(-1) ?? ''), this.unit);
    if (read.ok) this.#choose(editId, read.value);
    else this.failed = read.fault;
  }

  #choose(editId: string, value: JsonValue): void {
    const result: ChangeResult = this.sheet.settle([{ editId, value }]);
    this.failed = result.ok ? '' : result.why;
  }

  #short(value: JsonValue): string {
    const said = sayEntry(this.conflicts[0]!.field, value, this.unit);
    return said.length > ON_BUTTON ? `${said.slice(0, ON_BUTTON - 1)}…` : said;
  }
}
customElements.define('choice-entry', ChoiceEntry);
