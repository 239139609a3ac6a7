import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, WorkSheet } from '../../client/index.ts';
import { valueOf } from '../../format.ts';
import { benchWords } from '../../words/bench.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';

type Half = { min?: number; max?: number };

/** Coldest and hottest surroundings of the machine. The record holds both or none: one alone waits here for the other. */
export class TemperatureRange extends PlainElement {
  static override properties = { sheet: { attribute: false }, record: { attribute: false }, half: { state: true } };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  declare half: Half;

  constructor() {
    super();
    this.half = {};
  }

  protected override render(): TemplateResult {
    const range: Half = this.record.system.ambientC ?? this.half;
    const waits = this.record.system.ambientC === undefined && (this.half.min !== undefined || this.half.max !== undefined);
    return html`<div class="figures">${(['min', 'max'] as const).map((end) => html`<quantity-field .label=${benchWords.ambient[end]} .hint=${benchWords.ambientHint[end]}
      dimension="temperature" .value=${range[end]} .commit=${(value: Measured | undefined) => this.#set(end, value)}></quantity-field>`)}</div>
      ${waits ? html`<p class="mark-do">${benchWords.ambientWaits}</p>` : nothing}`;
  }

  #set(end: 'min' | 'max', value: Measured | undefined): ChangeResult {
    const { [end]: _gone, ...other } = this.record.system.ambientC ?? this.half;
    const next: Half = value === undefined ? other : { ...other, [end]: valueOf(value) };
    const { min, max } = next;
    const field = ['record', 'system', 'ambientC'];
    if (min !== undefined && max !== undefined) {
      const result = this.sheet.change([{ field, value: { min, max } }]);
      if (result.ok) this.half = {};
      return result;
    }
    this.half = next;
    return this.record.system.ambientC === undefined ? { ok: true } : this.sheet.change([{ field, value: null }]);
  }
}
customElements.define('temperature-range', TemperatureRange);
