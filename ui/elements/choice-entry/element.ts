import { html, nothing, type TemplateResult } from 'lit';
import type { JobConflict, JsonValue } from '../../../catalog-schema/index.ts';
import type { LengthUnit, WorkSheet } from '../../client/index.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';
import { sayEntry, sayField } from '../say-entry.ts';
import '../third-answer/element.ts';
import { renderWireSwatch } from '../wire-swatch.ts';

/** Longest value on a button; the whole stands beside it. */
const ON_BUTTON = 28;
let entries = 0;

/** One field with two answers or more: what stands, what waits, who wrote each and when. A person keeps one, takes another, or writes a third. */
export class ChoiceEntry extends PlainElement {
  static override properties = { conflicts: { attribute: false }, sheet: { attribute: false }, device: {}, unit: {}, failed: { state: true } };
  /** all of one field */
  declare conflicts: readonly JobConflict[];
  declare sheet: WorkSheet;
  /** this device's id, as it stands beside edits */
  declare device: string | undefined;
  declare unit: LengthUnit;
  declare failed: string;
  #id = `choice-${entries += 1}`;

  constructor() {
    super();
    this.failed = '';
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
        ${this.#renderSide('stands', standing, first.editId)}
        ${this.conflicts.map(({ held, editId }) => this.#renderSide('waits', held, editId))}
      </div>
      <third-answer .field=${field} .values=${[standing.value, ...this.conflicts.map(({ held }) => held.value)]} .unit=${this.unit}
        .commit=${(value: string | number) => this.sheet.settle([{ editId: first.editId, value }])}></third-answer>
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${words.conflicts.cannotTake} ${this.failed}</p>`}
    </div>`;
  }

  #renderSide(name: 'stands' | 'waits', side: JobConflict['standing'], editId: string): TemplateResult {
    const { field } = this.conflicts[0]!;
    const said = sayEntry(field, side.value, this.unit);
    const where = side.device === undefined ? '' : side.device === this.device ? words.conflicts.here : words.conflicts.elsewhere;
    const id = `${this.#id}-${name}-${editId}`;
    return html`<div class="choice-side"><p class="choice-name">${words.conflicts[name]}</p>
      <p class="choice-value" id=${id}>${field.at(-1) === 'colour' && typeof side.value === 'string' ? html`${renderWireSwatch(side.value)} ` : nothing}${said === '' ? html`<i>${words.conflicts.nothing}</i>` : said}</p>
      <p class="quiet">${words.conflicts.by(side.author ?? '', where, side.at === undefined ? '' : formatMoment(side.at))}</p>
      <button type="button" aria-describedby=${id} @click=${() => this.#choose(editId, side.value)}>${words.conflicts.buttons[name](said.length > ON_BUTTON ? undefined : said)}</button></div>`;
  }

  #choose(editId: string, value: JsonValue): void {
    const result = this.sheet.settle([{ editId, value }]);
    this.failed = result.ok ? '' : result.why;
  }
}
customElements.define('choice-entry', ChoiceEntry);
