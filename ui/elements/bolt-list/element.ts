import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, JsonValue, MachineMounting, Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, LengthUnit, WorkSheet } from '../../client/index.ts';
import { valueOf } from '../../format.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { renderChoices } from '../choices.ts';
import '../old-under-new/index.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';
import { usualHoleMm } from './hole-width.ts';

type Answer = 'yes' | 'no' | 'unknown';

/** The machine's mounting bolts: two by their spacing, or each by its place; and what the panel is like. */
export class BoltList extends PlainElement {
  static override properties = { sheet: { attribute: false }, record: { attribute: false }, unit: {}, failed: { state: true } };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  declare unit: LengthUnit;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
  }

  protected override render(): TemplateResult {
    const mounting = this.record.mounting;
    const holes = mounting?.holes ?? [];
    const [first, second] = holes;
    const spacing = holes.length === 2 ? Math.hypot(second!.xMm - first!.xMm, second!.yMm - first!.yMm) : undefined;
    return html`<div class="halves"><div class="stack">
      <quantity-field .label=${benchWords.spacing} .hint=${benchWords.spacingHint} dimension="length" .unit=${this.unit} .value=${spacing}
        .commit=${(value: Measured | undefined) => this.#space(value)}></quantity-field>
      <quantity-field .label=${benchWords.boltSize} .hint=${benchWords.boltSizeHint} dimension="length" .unit=${this.unit} .value=${mounting?.boltMm}
        .commit=${(value: Measured | undefined) => this.#set({ boltMm: value === undefined ? null : valueOf(value) })}></quantity-field>
      <quantity-field .label=${benchWords.boltPlusMinus} .hint=${benchWords.boltPlusMinusHint} dimension="length" .unit=${this.unit} .value=${mounting?.plusMinusMm}
        .commit=${(value: Measured | undefined) => this.#set({ plusMinusMm: value === undefined ? null : valueOf(value) })}></quantity-field>
      ${this.#ask('drillable', benchWords.drillable)}
      ${this.#ask('panelGrounded', benchWords.panelGrounded)}
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}
    </div><div class="stack">
      ${holes.length === 0 ? nothing : html`<old-under-new .machine=${mounting} .bracket=${{ holes: [] }} .units=${this.unit} .caption=${false}></old-under-new>`}
      <details ?open=${holes.length > 2}><summary>${benchWords.eachBolt}</summary><p class="quiet">${benchWords.eachBoltHint}</p>
        ${holes.map((_, index) => this.#renderBolt(index))}
        <button type="button" @click=${() => this.#add()}>${benchWords.addBolt}</button></details>
    </div></div>`;
  }

  #renderBolt(index: number): TemplateResult {
    const hole = this.record.mounting!.holes[index]!;
    const set = (axis: 'xMm' | 'yMm') => (value: Measured | undefined): ChangeResult => {
      const holes = this.#holes().map((entry, at) => (at === index ? { ...entry, [axis]: value === undefined ? 0 : valueOf(value) } : entry));
      return this.#set({ holes });
    };
    return html`<div class="bolt"><span class="field-label">${benchWords.bolt(index + 1)}</span>
      <quantity-field label="x" dimension="length" .unit=${this.unit} .value=${hole.xMm} .commit=${set('xMm')}></quantity-field>
      <quantity-field label="y" dimension="length" .unit=${this.unit} .value=${hole.yMm} .commit=${set('yMm')}></quantity-field>
      <button type="button" aria-label=${benchWords.removeBolt(index + 1)} @click=${() => this.#set({ holes: this.#holes().filter((_, at) => at !== index) })}>${benchWords.takeBack}</button></div>`;
  }

  #ask(field: 'drillable' | 'panelGrounded', legend: string): TemplateResult {
    const value = this.record.mounting?.[field];
    return renderChoices<Answer>({
      name: field, legend, value: value === undefined ? 'unknown' : value ? 'yes' : 'no',
      choices: [{ value: 'yes', label: words.yes }, { value: 'no', label: words.no }, { value: 'unknown', label: words.notKnown }],
      onChoose: (answer) => { this.#set({ [field]: answer === 'unknown' ? null : answer === 'yes' }); },
    });
  }

  #holes(): MachineMounting['holes'] { return [...(this.record.mounting?.holes ?? [])]; }

  /** Two bolts by their spacing lie on one level, the middle between them at 0, 0. */
  #space(value: Measured | undefined): ChangeResult {
    if (value === undefined) return this.#set({ holes: [] });
    const half = valueOf(value) / 2;
    if (half <= 0) return { ok: false, why: benchWords.spacingAboveZero };
    const diameterMm = usualHoleMm(this.record.mounting);
    return this.#set({ holes: [{ xMm: -half, yMm: 0, diameterMm }, { xMm: half, yMm: 0, diameterMm }] });
  }

  #add(): void {
    this.#set({ holes: [...this.#holes(), { xMm: 0, yMm: 0, diameterMm: usualHoleMm(this.record.mounting) }] });
  }

  #set(part: { readonly [key: string]: JsonValue }): ChangeResult {
    const changes = this.record.mounting === undefined
      ? [{ field: ['record', 'mounting'], value: { holes: [], ...Object.fromEntries(Object.entries(part).filter(([, value]) => value !== null)) } }]
      : Object.entries(part).map(([key, value]) => ({ field: ['record', 'mounting', key], value }));
    const result = this.sheet.change(changes);
    this.failed = result.ok ? '' : result.why;
    return result;
  }
}
customElements.define('bolt-list', BoltList);
