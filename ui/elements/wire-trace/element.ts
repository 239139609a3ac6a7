import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import {
  TRACE_MEASUREMENTS, type BenchRecord, type JsonValue, type LeadsTo, type Measured, type TraceAnswer, type TraceMeasurement, type TraceNext, type Wire,
} from '../../../catalog-schema/index.ts';
import type { ChangeResult, FieldChange, LengthUnit, WorkSheet } from '../../client/index.ts';
import { formatNumber, valueOf } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import type { EngineClient } from '../../worker/index.ts';
import { renderChoices } from '../choices.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';

type Traced = TraceAnswer['wires'][number];
type Reading = Measured | 'open';

/**
 * `<wire-trace>`: where a wire leads, by a meter at its free end: the reading that tells most, how to take it without harm, what remains.
 *
 * Properties: `sheet` · `record` the sheet's record · `tag` · `terminalId` the terminal it sits on · `unit` · `engine` the desk's.
 * A reading that leaves one place writes it down as `leadsTo`, unless somebody has written another.
 */
export class WireTrace extends PlainElement {
  static override properties = {
    sheet: { attribute: false }, record: { attribute: false }, tag: {}, terminalId: {}, unit: {}, engine: { attribute: false },
    answer: { state: true }, failed: { state: true }, wanted: { state: true }, said: { state: true },
  };
  declare sheet: WorkSheet;
  declare record: BenchRecord;
  declare tag: string;
  declare terminalId: string;
  declare unit: LengthUnit;
  declare engine: EngineClient;
  declare answer: (Pick<TraceAnswer, 'cautions' | 'assumptions'> & { readonly tag: string; readonly traced: Traced }) | undefined;
  declare failed: string;
  /** a reading chosen instead of the one that tells most */
  declare wanted: TraceMeasurement | undefined;
  declare said: string;
  #asked = '';
  #pending: Promise<void> = Promise.resolve();

  constructor() {
    super();
    this.failed = '';
    this.said = '';
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('tag')) Object.assign(this, { answer: undefined, wanted: undefined, failed: '', said: '' });
    void this.#ask();
  }

  /** as the sheet has it now: the property follows a little later */
  get #wire(): Wire { return this.sheet.record.wires?.find((wire) => wire.tag === this.tag) ?? { tag: this.tag, wasOn: this.terminalId }; }

  protected override render(): TemplateResult {
    const wire = this.#wire;
    const traced = this.answer?.tag === this.tag ? this.answer.traced : undefined;
    return html`<div class="wire-trace stack"><p class="quiet">${words.wires.traceLead}</p>
      ${this.#renderReadings(wire)}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${words.wires.traceFailed(this.failed)}</p>`}
      ${traced === undefined ? nothing : html`${this.#renderOutcome(wire, traced)}${this.#renderNext(traced)}
        <div class="caution">${this.answer!.cautions.map((line) => html`<p>${line}</p>`)}</div>
        ${this.answer!.assumptions.length === 0 ? nothing : html`<details class="assumptions"><summary>${words.photograph.assumptions}</summary><ul>${this.answer!.assumptions.map((line) => html`<li>${line}</li>`)}</ul></details>`}`}
    </div>`;
  }

  #renderReadings(wire: Wire): TemplateResult | typeof nothing {
    const readings = wire.traced?.readings ?? {};
    const taken = TRACE_MEASUREMENTS.filter((measure) => readings[measure] !== undefined);
    if (taken.length === 0) return nothing;
    return html`<div><p class="field-label">${words.wires.readings}</p><ul class="rows photo-rows">${taken.map((measure) => html`<li>
      <span>${words.wires.measurements[measure]} <b class="number">${printReading(measure, readings[measure]!)}</b></span>
      <button type="button" class="plain" aria-label=${words.wires.removeReading(words.wires.measurements[measure])} @click=${() => this.#change([{ field: this.#path('readings', measure), value: null }])}>${words.wires.remove}</button></li>`)}</ul></div>`;
  }

  #renderOutcome(wire: Wire, traced: Traced): TemplateResult {
    const place = (to: LeadsTo): string => words.wire.leadsTo[to].name;
    const { leadsTo, remaining, conflicts, cautions } = traced;
    return html`${conflicts.length === 0 ? nothing : html`<div class="caution" role="alert">${conflicts.map(({ why }) => html`<p>${why}</p>`)}</div>`}
      <p role="status"><b>${remaining.length === 0 ? words.wires.cannotLead : leadsTo === null ? words.wires.canLead(remaining.map(place)) : this.said === '' ? words.wires.leads(place(leadsTo)) : this.said}</b></p>
      ${cautions.map((line) => html`<p class="caution">${line}</p>`)}
      ${leadsTo !== null && leadsTo !== wire.leadsTo ? html`<p><button type="button" class="main" @click=${() => this.#putDown(leadsTo)}>${words.wires.putDown(place(leadsTo))}</button></p>` : nothing}`;
  }

  #renderNext({ measureNext, remaining }: Traced): TemplateResult | typeof nothing {
    const next = measureNext.find(({ measure }) => measure === this.wanted) ?? measureNext[0];
    if (next === undefined) return remaining.length > 1 ? html`<p class="mark-do">${words.wires.nothingLeft}</p>` : nothing;
    const isVolts = next.measure.startsWith('volts');
    return html`<section class="trace-next"><h3>${next === measureNext[0] ? words.wires.measureNext : words.wires.measure}</h3>
      <p>${next.what.slice(0, 1).toUpperCase()}${next.what.slice(1)}.</p>
      <div class="caution">${next.cautions.map((line) => html`<p>${line}</p>`)}</div>
      ${this.#renderSeparation(next)}
      <div class="trace-entry"><quantity-field .label=${words.wires.measurements[next.measure]} dimension=${isVolts ? 'voltage' : 'resistance'} .unit=${this.unit} .openAllowed=${!isVolts} .value=${undefined}
        .commit=${(value: Reading | undefined) => this.#take(next.measure, value)}></quantity-field>
        ${isVolts ? nothing : html`<button type="button" @click=${() => this.#take(next.measure, 'open')}>${words.wires.openReading}</button>`}</div>
      ${measureNext.length < 2 ? nothing : html`<details><summary>${words.wires.otherReadings}</summary>${renderChoices<TraceMeasurement>({
        name: 'trace-reading', legend: words.wires.whichReading, quietLegend: true, value: next.measure,
        choices: measureNext.map(({ measure }) => ({ value: measure, label: words.wires.measurements[measure] })), onChoose: (measure) => { this.wanted = measure; },
      })}</details>`}</section>`;
  }

  #renderSeparation({ separates }: TraceNext): TemplateResult {
    return html`<dl class="facts trace-leaves" aria-label=${words.wires.wouldLeave}>${separates.map(({ outcome, leaves }) => html`<div>
      <dt>${words.wires.outcomes[outcome]}</dt><dd>${leaves.map((to) => words.wire.leadsTo[to].name).join(', ')}</dd></div>`)}</dl>`;
  }

  #path(...rest: string[]): string[] { return ['record', 'wires', this.tag, 'traced', ...rest]; }

  /** A reading written down; the wire comes into the record with it. */
  #take(measure: TraceMeasurement, value: Reading | undefined): ChangeResult {
    if (value === undefined) return { ok: true };
    const wire = this.record.wires?.find(({ tag }) => tag === this.tag);
    const result = this.#change(wire === undefined
      ? [{ field: ['record', 'wires', this.tag], value: { wasOn: this.terminalId, traced: { readings: { [measure]: value } } } as JsonValue }]
      : [{ field: this.#path('readings', measure), value: value as JsonValue }]);
    if (result.ok) {
      this.wanted = undefined;
      void this.#settle();
    }
    return result;
  }

  /** What the newest readings leave, where they leave one place and nobody has said another. A take-off, known only by what it is not, a person puts down. */
  async #settle(): Promise<void> {
    const { tag } = this;
    await this.#ask();
    const traced = this.answer?.tag === tag ? this.answer.traced : undefined;
    const { leadsTo } = this.#wire;
    if (this.tag !== tag || !traced?.leadsTo || traced.leadsTo === 'tap' || (leadsTo !== undefined && leadsTo !== 'unknown')) return;
    this.#putDown(traced.leadsTo);
  }

  #putDown(place: LeadsTo): void {
    const result = this.#change([{ field: ['record', 'wires', this.tag, 'leadsTo'], value: place }, { field: this.#path('by'), value: 'meter' }]);
    if (result.ok) this.said = words.wires.setByReadings(words.wire.leadsTo[place].name);
  }

  #change(changes: readonly FieldChange[]): ChangeResult {
    this.said = '';
    const result = this.sheet.change(changes);
    this.failed = result.ok ? '' : result.why;
    return result;
  }

  /** Asks about the wire as it stands, once; resolves when it is answered. */
  #ask(): Promise<void> {
    const wire = this.#wire;
    const record: BenchRecord = { system: this.sheet.record.system, wires: [wire] };
    const question = JSON.stringify(record);
    if (question === this.#asked) return this.#pending;
    this.#asked = question;
    this.#pending = this.engine.trace(record, [wire.tag]).then(({ wires: [traced], cautions, assumptions }) => {
      if (question === this.#asked && traced !== undefined) this.answer = { tag: wire.tag, traced, cautions, assumptions };
    }, (error: unknown) => {
      if (question === this.#asked) this.failed = sayFault(error);
    });
    return this.#pending;
  }
}
customElements.define('wire-trace', WireTrace);

function printReading(measure: TraceMeasurement, reading: Reading): string {
  return reading === 'open' ? words.wires.openReading : `${formatNumber(valueOf(reading), 3)} ${measure.startsWith('volts') ? 'V' : 'Ω'}`;
}
