import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, JsonValue, Measured, OhmReading } from '../../../catalog-schema/index.ts';
import type { ChangeResult, LengthUnit, WorkSheet } from '../../client/index.ts';
import { formatMeasured } from '../../format.ts';
import { words } from '../../words.ts';
import { renderChoices } from '../choices.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';
import '../terminal-picture/index.ts';

/** Ohms between two places: tap both in the drawing, type what the meter shows. Readings are listed and can be taken back. */
export class OhmReadings extends PlainElement {
  static override properties = {
    sheet: { attribute: false }, record: { attribute: false }, unit: {}, between: { state: true }, pulledIn: { state: true }, plusOn: { state: true },
  };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  declare unit: LengthUnit;
  declare between: readonly [string, string] | undefined;
  declare pulledIn: boolean;
  declare plusOn: string | undefined;

  constructor() {
    super();
    this.pulledIn = false;
  }

  protected override render(): TemplateResult {
    const terminals = this.record.terminals ?? [];
    return html`<div class="halves">
      <div><p class="quiet">${words.bench.ohmsLead}</p>
        <terminal-picture mode="pair" .terminals=${terminals} .wires=${[]} .units=${this.unit} .selected=${this.between ?? []}
          @pair-tap=${(event: CustomEvent<{ between: [string, string] }>) => this.#touch(event.detail.between)}></terminal-picture></div>
      <div class="stack">${this.between === undefined ? html`<p class="mark-do">${words.bench.tapTwo}</p>` : this.#renderEntry(this.between)}
        ${this.#renderList()}</div></div>`;
  }

  #renderEntry(between: readonly [string, string]): TemplateResult {
    const key = this.#keyOf(between);
    const reading = this.#readings[key];
    return html`<h3>${words.bench.ohmsBetween(this.#name(between[0]), this.#name(between[1]))}</h3>
      <quantity-field class="ohm-entry" .label=${words.bench.ohms} .hint=${words.bench.ohmsHint} dimension="resistance" openAllowed .value=${reading?.ohm}
        .commit=${(value: Measured | 'open' | undefined) => this.#read(between, value)}></quantity-field>
      <div class="button-row"><button type="button" @click=${() => this.#read(between, 'open')}>${words.bench.readsOpen}</button></div>
      ${renderChoices({
        name: 'held', legend: words.bench.held, quietLegend: true, value: this.pulledIn ? 'yes' : 'no',
        choices: [{ value: 'no', label: words.bench.atRest }, { value: 'yes', label: words.bench.pulledIn }],
        onChoose: (value) => { this.pulledIn = value === 'yes'; },
      })}
      ${renderChoices({
        name: 'plus', legend: words.bench.plusOn, quietLegend: true, value: this.plusOn ?? 'none',
        choices: [{ value: 'none', label: words.notKnown }, ...between.map((node) => ({ value: node, label: this.#name(node) }))],
        onChoose: (value) => { this.plusOn = value === 'none' ? undefined : value; },
      })}`;
  }

  #renderList(): TemplateResult | typeof nothing {
    const entries = Object.entries(this.#readings);
    if (entries.length === 0) return nothing;
    return html`<ul class="rows">${entries.map(([key, reading]) => html`<li class="row row-held">
      <span>${words.bench.ohmsBetween(this.#name(reading.between[0]), this.#name(reading.between[1]))}${reading.pulledIn === true ? html` <span class="quiet">${words.bench.pulledIn}</span>` : nothing}
        ${reading.plusOn === undefined ? nothing : html`<span class="quiet">${words.bench.plusWas(this.#name(reading.plusOn))}</span>`}</span>
      <b class="number">${reading.ohm === 'open' ? words.field.open : formatMeasured(reading.ohm, 'Ω')}</b>
      <button type="button" aria-label=${words.bench.takeBackReading(reading.between[0], reading.between[1])}
        @click=${() => { this.sheet.change([{ field: ['record', 'ohms', key], value: null }]); }}>${words.bench.takeBack}</button></li>`)}</ul>`;
  }

  get #readings(): Record<string, OhmReading> {
    return (this.sheet.document.record['ohms'] ?? {}) as Record<string, OhmReading>;
  }

  #name(node: string): string {
    return node === 'case' ? words.node.case : node;
  }

  #touch(between: readonly [string, string]): void {
    this.between = between;
    this.pulledIn = false;
    this.plusOn = undefined;
    void this.updateComplete.then(() => this.querySelector<HTMLElement>('.ohm-entry input')?.focus());
  }

  /** The reading of this pair in this state: the one that is there, else the next free key. */
  #keyOf(between: readonly [string, string]): string {
    const readings = this.#readings;
    const same = Object.entries(readings).find(([, entry]) => entry.between.includes(between[0]) && entry.between.includes(between[1])
      && (entry.pulledIn ?? false) === this.pulledIn && entry.plusOn === this.plusOn);
    if (same !== undefined) return same[0];
    let number = Object.keys(readings).length + 1;
    while (readings[`r${number}`] !== undefined) number += 1;
    return `r${number}`;
  }

  #read(between: readonly [string, string], ohm: Measured | 'open' | undefined): ChangeResult {
    const field = ['record', 'ohms', this.#keyOf(between)];
    if (ohm === undefined) return this.sheet.change([{ field, value: null }]);
    const reading: JsonValue = {
      between: [...between], ohm, ...(this.pulledIn ? { pulledIn: true } : {}), ...(this.plusOn === undefined ? {} : { plusOn: this.plusOn }),
    };
    return this.sheet.change([{ field, value: reading }]);
  }
}
customElements.define('ohm-readings', OhmReadings);
