import { html, type PropertyValues, type TemplateResult } from 'lit';
import type { BenchRecord, IdentifyAnswer, JsonValue, Measured, OhmReading } from '../../../catalog-schema/index.ts';
import type { ChangeResult, LengthUnit, WorkSheet } from '../../client/index.ts';
import { benchWords } from '../../words/bench.ts';
import type { ReadingSetUp } from '../measure-target.ts';
import '../ohm-entry/element.ts';
import '../ohm-table/element.ts';
import { PlainElement } from '../plain-element.ts';
import '../terminal-picture/index.ts';
import { clashesByKey, keyFor, layOhmTable, samePair, sameSetUp, setUpOf } from './readings.ts';

/** Ohms between two places: tap both in the drawing, say how they are read, type what is shown. The table fills itself. */
export class OhmReadings extends PlainElement {
  static override properties = {
    sheet: { attribute: false }, record: { attribute: false }, unit: {}, aim: { attribute: false }, asked: { attribute: false }, conflicts: { attribute: false },
    setUp: { state: true },
  };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  declare unit: LengthUnit;
  /** a reading to open for entry; each new object opens once */
  declare aim: ReadingSetUp | undefined;
  /** the reading to take next */
  declare asked: ReadingSetUp | undefined;
  declare conflicts: IdentifyAnswer['conflicts'];
  declare setUp: ReadingSetUp | undefined;

  constructor() {
    super();
    this.conflicts = [];
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('aim') && this.aim !== undefined) this.setUp = this.aim;
  }

  protected override updated(changed: PropertyValues<this>): void {
    if (changed.has('aim') && this.aim !== undefined) this.#focusEntry();
  }

  protected override render(): TemplateResult {
    const { setUp } = this;
    const readings = this.#readings;
    return html`<p class="quiet">${benchWords.ohmsLead}</p><div class="halves ohm-halves">
      <terminal-picture mode="pair" .terminals=${this.record.terminals ?? []} .wires=${[]} .units=${this.unit} .selected=${setUp?.between ?? []}
        @pair-tap=${(event: CustomEvent<{ between: [string, string] }>) => this.#touch(event.detail.between)}></terminal-picture>
      <div>${setUp === undefined ? html`<p class="mark-do">${benchWords.tapTwo}</p>` : html`<ohm-entry .setUp=${setUp} .reading=${this.#readingOf(setUp)}
        .change=${(next: ReadingSetUp) => { this.setUp = next; }} .commit=${(ohm: Measured | 'open' | undefined) => this.#read(setUp, ohm)}></ohm-entry>`}</div></div>
      <ohm-table .rows=${layOhmTable(this.record, readings, this.asked === undefined ? [] : [this.asked])} .clashes=${clashesByKey(readings, this.conflicts)}
        .chosen=${setUp} .asked=${this.asked} .open=${(next: ReadingSetUp) => { this.setUp = next; this.#focusEntry(); }}></ohm-table>`;
  }

  get #readings(): Record<string, OhmReading> {
    return (this.sheet.document.record['ohms'] ?? {}) as Record<string, OhmReading>;
  }

  #readingOf(setUp: ReadingSetUp): OhmReading | undefined {
    return Object.values(this.#readings).find((reading) => sameSetUp(setUpOf(reading), setUp));
  }

  /** Two taps open the reading asked for between them, else a plain one. */
  #touch(between: readonly [string, string]): void {
    const { asked } = this;
    this.setUp = asked !== undefined && samePair(asked.between, between) ? asked : { between, by: 'meter', plusOn: undefined, pulledIn: false };
    this.#focusEntry();
  }

  #focusEntry(): void {
    void this.updateComplete.then(async () => {
      const entry = this.querySelector('ohm-entry');
      await entry?.updateComplete;
      this.querySelector<HTMLElement>('.first-figure input')?.focus();
    });
  }

  #read(setUp: ReadingSetUp, ohm: Measured | 'open' | undefined): ChangeResult {
    const field = ['record', 'ohms', keyFor(this.#readings, setUp)];
    if (ohm === undefined) return this.#readingOf(setUp) === undefined ? { ok: true } : this.sheet.change([{ field, value: null }]);
    const { between, by, plusOn, pulledIn } = setUp;
    const reading: JsonValue = {
      between: [...between], ohm, ...(pulledIn ? { pulledIn } : {}), ...(by === 'supply' ? { by } : {}), ...(plusOn === undefined ? {} : { plusOn }),
    };
    return this.sheet.change([{ field, value: reading }]);
  }
}
customElements.define('ohm-readings', OhmReadings);

declare global {
  interface HTMLElementTagNameMap { 'ohm-readings': OhmReadings }
}
