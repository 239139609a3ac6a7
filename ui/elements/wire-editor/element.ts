import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { LEADS_TO, printWireCode, type BenchRecord, type JsonValue, type LeadsTo, type Measured, type Wire, type WireEnd, type WireTrace } from '../../../catalog-schema/index.ts';
import type { ChangeResult, FieldChange, LengthUnit, WorkSheet } from '../../client/index.ts';
import { readWireColour, WIRE_COLOURS } from '../../drawing/index.ts';
import { valueOf } from '../../format.ts';
import { endKey, wireEnds, wireSizes } from '../../screens/as-found/wire-choices.ts';
import { words } from '../../words.ts';
import { renderChoices, type Choice } from '../choices.ts';
import '../code-label/element.ts';
import { PlainElement } from '../plain-element.ts';
import '../field-choice/element.ts';
import '../quantity-field/element.ts';
import type { EngineClient } from '../../worker/index.ts';
import { renderWireSwatch } from '../wire-swatch.ts';
import '../wire-trace/element.ts';

const NO_STRIPE = 'none';
const NEAR_MM2 = 0.02;
type TraceBy = NonNullable<WireTrace['by']>;
const TRACE_BYS: readonly TraceBy[] = ['followed', 'meter', 'diagram', 'told'];

/**
 * One wire: where it leads, colour and stripe, size, end. Each tap is an edit of its own. A wire that is not in the record yet
 * comes into it with the first choice.
 */
export class WireEditor extends PlainElement {
  static override properties = {
    sheet: { attribute: false }, record: { attribute: false }, tag: {}, terminalId: {}, unit: {}, engine: { attribute: false },
    failed: { state: true }, striped: { state: true }, tracing: { state: true }, coded: { state: true },
  };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  declare tag: string;
  /** the terminal it sits on */
  declare terminalId: string;
  declare unit: LengthUnit;
  declare engine: EngineClient;
  declare failed: string;
  /** the stripes are shown to choose from */
  declare striped: boolean;
  /** the tracing helper is open */
  declare tracing: boolean;
  /** the tag's code is shown */
  declare coded: boolean;

  constructor() {
    super();
    this.failed = '';
    this.striped = false;
    this.tracing = false;
    this.coded = false;
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has('tag')) return;
    this.striped = false;
    this.failed = '';
    this.tracing = this.#wire?.leadsTo === 'unknown';
  }

  get #wire(): Wire | undefined { return this.record.wires?.find((wire) => wire.tag === this.tag); }

  protected override render(): TemplateResult {
    const wire = this.#wire;
    return html`<div class="wire-editor">
      <h2 id="wire-editor-title" tabindex="-1">${words.asFound.wireOn(this.tag, this.terminalId)}
        ${wire === undefined ? html`<small>${words.asFound.newWire}</small>` : nothing}</h2>
      <p class="quiet">${words.asFound.tieTag(this.tag)}</p>
      ${wire === undefined || this.sheet.jobId === undefined ? nothing : this.#renderCode(this.sheet.jobId)}
      <field-choice .sheet=${this.sheet} .at=${[['record', 'wires', this.tag]]} .unit=${this.unit}></field-choice>
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}
      ${this.#renderLeads(wire)}
      ${this.#renderColours(wire)}
      ${this.#renderSizes(wire)}
      ${this.#renderEnds(wire)}
      ${wire === undefined ? nothing : this.#renderMove(wire)}
    </div>`;
  }

  /** The library that draws codes is loaded when one is wanted. */
  #renderCode(jobId: string): TemplateResult {
    return html`<details ?open=${this.coded} @toggle=${(event: Event) => { this.coded = (event.target as HTMLDetailsElement).open; }}><summary>${words.wires.showCode}</summary>
      ${this.coded ? html`<p>${words.wires.showCodeHint}</p><code-label kind="qr" .text=${printWireCode(jobId, this.tag)} .label=${words.wires.codeOf(this.tag)} .moduleMm=${1}></code-label>` : nothing}</details>`;
  }

  #renderLeads(wire: Wire | undefined): TemplateResult {
    return html`<div class="leads-choices">${renderChoices<LeadsTo>({
      name: 'leads-to', legend: words.asFound.leadsTo, value: wire?.leadsTo,
      choices: LEADS_TO.map((value) => ({ value, label: words.wire.leadsTo[value].name })),
      onChoose: (value) => { if (this.#set('leadsTo', value).ok && value === 'unknown') this.tracing = true; },
    })}
    ${wire?.leadsTo === undefined ? nothing : html`<p class="quiet">${words.wire.leadsTo[wire.leadsTo].hint}</p>`}
    ${wire?.leadsTo === undefined || wire.leadsTo === 'unknown' ? nothing : renderChoices<TraceBy>({
      name: 'traced-by', legend: words.wires.by, value: wire.traced?.by, choices: TRACE_BYS.map((value) => ({ value, label: words.wires.bys[value] })),
      onChoose: (by) => this.#change([{ field: ['record', 'wires', this.tag, 'traced', 'by'], value: by }]),
    })}
    <details ?open=${this.tracing} @toggle=${(event: Event) => { this.tracing = (event.target as HTMLDetailsElement).open; }}><summary>${words.wires.trace}</summary>
      ${this.tracing ? html`<wire-trace .sheet=${this.sheet} .record=${this.record} .tag=${this.tag} .terminalId=${this.terminalId} .unit=${this.unit} .engine=${this.engine}></wire-trace>` : nothing}
      </details></div>`;
  }

  #renderColours(wire: Wire | undefined): TemplateResult {
    const [base, stripe] = readWireColour(wire?.colour).letters.split('/');
    const chip = (letters: string, name: string): Choice<string> => ({
      value: letters, label: html`${renderWireSwatch(letters)}<b>${letters}</b>`, hint: name,
    });
    const chips = WIRE_COLOURS.map(({ letters, name }) => chip(letters, name));
    const plain: Choice<string> = { value: NO_STRIPE, label: words.asFound.noStripe };
    return html`<div class="colour-choices">${renderChoices({
      name: 'colour', legend: words.asFound.colour, value: base, choices: chips,
      onChoose: (letters) => { this.#set('colour', stripe === undefined ? letters : `${letters}/${stripe}`); },
    })}
    ${base === undefined || base === '' ? nothing : stripe === undefined && !this.striped
      ? html`<div><button type="button" @click=${() => { this.striped = true; }}>${words.asFound.addStripe}</button></div>` : renderChoices({
      name: 'stripe', legend: words.asFound.stripe, value: stripe ?? NO_STRIPE, choices: [plain, ...chips.filter((entry) => entry.value !== base)],
      onChoose: (letters) => { this.#set('colour', letters === NO_STRIPE ? base : `${base}/${letters}`); },
    })}</div>`;
  }

  #renderSizes(wire: Wire | undefined): TemplateResult {
    const sizes = wireSizes(this.unit);
    const chosen = sizes.find((size) => wire?.areaMm2 !== undefined && Math.abs(size.mm2 - wire.areaMm2) < NEAR_MM2 * size.mm2);
    return html`<div class="size-choices">${renderChoices({
      name: 'size', legend: words.asFound.size, value: chosen?.label,
      choices: sizes.map((size) => ({ value: size.label, label: size.label })),
      onChoose: (label) => { this.#set('areaMm2', sizes.find((size) => size.label === label)!.mm2); },
    })}
    <details ?open=${chosen === undefined && wire?.areaMm2 !== undefined}><summary>${words.asFound.otherSize}</summary><quantity-field .label=${words.asFound.size} .hint=${words.asFound.otherSizeHint} dimension="area" .unit=${this.unit}
      .value=${chosen === undefined ? wire?.areaMm2 : undefined} .commit=${(value: Measured | undefined) => this.#setNumber('areaMm2', value)}></quantity-field></details></div>`;
  }

  #renderEnds(wire: Wire | undefined): TemplateResult {
    const form = this.record.terminals?.find((terminal) => terminal.id === this.terminalId)?.form;
    const ends = wireEnds(form, this.unit);
    const key = wire?.end === undefined ? undefined : endKey(wire.end);
    const own = wire?.end?.form === 'ring' && !ends.some((entry) => entry.key === key) ? wire.end.holeMm : undefined;
    return html`<div class="end-choices">${renderChoices({
      name: 'end', legend: words.asFound.end, value: key, choices: ends.map((entry) => ({ value: entry.key, label: entry.label, ...(entry.hint === undefined ? {} : { hint: entry.hint }) })),
      onChoose: (chosen) => { this.#set('end', ends.find((entry) => entry.key === chosen)!.end as JsonValue & WireEnd); },
    })}
    <details ?open=${own !== undefined}><summary>${words.asFound.otherRing}</summary><quantity-field .label=${words.asFound.otherHole} dimension="length" .unit=${this.unit} .value=${own}
      .commit=${(value: Measured | undefined) => (value === undefined ? this.#set('end', null) : this.#set('end', { form: 'ring', holeMm: valueOf(value) }))}></quantity-field></details></div>`;
  }

  #renderMove(wire: Wire): TemplateResult {
    const terminals = this.record.terminals ?? [];
    return html`<div class="button-row"><label>${words.asFound.moveTo}
        <select .value=${wire.wasOn} @change=${(event: Event) => this.#set('wasOn', (event.target as HTMLSelectElement).value)}>
          ${terminals.map((terminal) => html`<option value=${terminal.id} ?selected=${terminal.id === wire.wasOn}>${words.wiring.terminal(terminal.id, terminal.marking)}</option>`)}
        </select></label>
      <button type="button" @click=${() => this.#takeOff()}>${words.asFound.takeOff}</button></div>`;
  }

  #setNumber(field: 'areaMm2', value: Measured | undefined): ChangeResult {
    if (value === undefined && this.#wire?.[field] === undefined) return { ok: true };
    return this.#set(field, value === undefined ? null : valueOf(value));
  }

  #set(field: keyof Wire, value: JsonValue): ChangeResult {
    const path = ['record', 'wires', this.tag];
    return this.#change(this.#wire === undefined
      ? [{ field: path, value: { wasOn: this.terminalId, ...(value === null ? {} : { [field]: value }) } }]
      : [{ field: [...path, field], value }]);
  }

  #takeOff(): void { this.#change([{ field: ['record', 'wires', this.tag], value: null }]); }

  #change(changes: readonly FieldChange[]): ChangeResult {
    const result = this.sheet.change(changes);
    this.failed = result.ok ? '' : result.why;
    return result;
  }
}
customElements.define('wire-editor', WireEditor);
