import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { INSTRUMENT_DEFAULTS, type Measured, type OhmReading } from '../../../catalog-schema/index.ts';
import type { ChangeResult } from '../../client/index.ts';
import { formatMeasured, formatNumber, valueOf } from '../../format.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { renderChoices } from '../choices.ts';
import type { ReadingSetUp } from '../measure-target.ts';
import { PlainElement } from '../plain-element.ts';
import '../quantity-field/element.ts';

/** Half-width of volts over amps: each to 1 %, common practice, no source. */
const SUPPLY_RELATIVE = 0.02;

/**
 * One reading between two places: with what, which probe is plus, the plunger, then what the instrument shows. How it is read comes
 * first, since it says which reading the number belongs to.
 */
export class OhmEntry extends PlainElement {
  static override properties = {
    setUp: { attribute: false }, reading: { attribute: false }, change: { attribute: false }, commit: { attribute: false },
    volts: { state: true }, amps: { state: true },
  };
  declare setUp: ReadingSetUp;
  /** the reading taken this way, where there is one */
  declare reading: OhmReading | undefined;
  declare change: (setUp: ReadingSetUp) => void;
  declare commit: (ohm: Measured | 'open' | undefined) => ChangeResult;
  declare volts: number | undefined;
  declare amps: number | undefined;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('setUp')) {
      this.volts = undefined;
      this.amps = undefined;
    }
  }

  protected override render(): TemplateResult {
    const { between: [a, b], by } = this.setUp;
    return html`<div class="ohm-entry stack">
      <h3>${benchWords.ohmsBetween(sayNode(a), sayNode(b))}</h3>
      <div class="set-up">${this.#renderSetUp()}</div>
      ${by === 'supply' ? html`<p class="caution">${benchWords.supplyCaution}</p>` : nothing}
      ${this.setUp.pulledIn ? html`<p class="caution">${benchWords.heldCaution}</p>` : nothing}
      ${by === 'supply' ? this.#renderSupply() : this.#renderMeter()}
      <div class="button-row">
        <button type="button" @click=${() => this.commit('open')}>${by === 'supply' ? benchWords.readsOpenSupply : benchWords.readsOpen}</button>
        ${this.reading === undefined ? nothing : html`<button type="button" @click=${() => this.commit(undefined)}>${benchWords.takeBackThis}</button>`}
      </div></div>`;
  }

  #renderSetUp(): TemplateResult {
    const { setUp } = this;
    const { between, by, plusOn, pulledIn } = setUp;
    return html`${renderChoices({
      name: 'read-by', legend: benchWords.readBy, quietLegend: true, value: by,
      choices: (['meter', 'supply'] as const).map((value) => ({ value, label: benchWords.by[value] })),
      // A supply always has a plus somewhere; the place tapped first is taken until another is said.
      onChoose: (value) => { this.change({ ...setUp, by: value, plusOn: value === 'supply' ? plusOn ?? between[0] : plusOn }); },
    })}
    ${renderChoices({
      name: 'plus', legend: benchWords.plusOn[by], quietLegend: true, value: plusOn === undefined ? 'none' : `on ${plusOn}`,
      choices: [...between.map((node) => ({ value: `on ${node}`, label: sayNode(node) })),
        ...(by === 'meter' ? [{ value: 'none', label: benchWords.plusNotNoted }] : [])],
      onChoose: (value) => { this.change({ ...setUp, plusOn: value === 'none' ? undefined : between.find((node) => value === `on ${node}`) }); },
    })}
    ${renderChoices({
      name: 'held', legend: benchWords.held, quietLegend: true, value: pulledIn ? 'yes' : 'no',
      choices: [{ value: 'no', label: benchWords.atRest }, { value: 'yes', label: benchWords.pulledIn }],
      onChoose: (value) => { this.change({ ...setUp, pulledIn: value === 'yes' }); },
    })}`;
  }

  #renderMeter(): TemplateResult {
    const { absolute, relative } = INSTRUMENT_DEFAULTS.ohmmeter;
    return html`<quantity-field class="first-figure" .label=${benchWords.ohms} .hint=${`${benchWords.ohmsHint}; ${benchWords.meterPlusMinus(formatNumber(absolute), formatNumber(relative * 100))}`}
      dimension="resistance" openAllowed .value=${this.reading?.ohm} .commit=${this.commit}></quantity-field>`;
  }

  #renderSupply(): TemplateResult {
    const { reading } = this;
    return html`<div class="figures">
      <quantity-field class="first-figure" .label=${benchWords.supplyVolts} .hint=${benchWords.supplyVoltsHint} dimension="voltage" .value=${this.volts}
        .commit=${(value: Measured | undefined) => this.#take({ volts: value === undefined ? undefined : valueOf(value), amps: this.amps })}></quantity-field>
      <quantity-field .label=${benchWords.supplyAmps} .hint=${benchWords.supplyAmpsHint} dimension="current" .value=${this.amps}
        .commit=${(value: Measured | undefined) => this.#take({ volts: this.volts, amps: value === undefined ? undefined : valueOf(value) })}></quantity-field>
    </div>
    <p class="quiet">${reading === undefined ? benchWords.supplyBoth : benchWords.supplyIs(reading.ohm === 'open' ? words.field.open : formatMeasured(reading.ohm, 'Ω'))};
      ${benchWords.supplyPlusMinus(formatNumber(SUPPLY_RELATIVE * 100))}</p>`;
  }

  #take({ volts, amps }: { volts: number | undefined; amps: number | undefined }): ChangeResult {
    if (volts !== undefined && amps !== undefined) {
      const ohm = amps === 0 ? 'open' : volts / amps;
      const result = this.commit(ohm === 'open' || ohm === 0 ? ohm : { value: Number(ohm.toPrecision(6)), plusMinus: Number(Math.abs(ohm * SUPPLY_RELATIVE).toPrecision(3)) });
      if (!result.ok) return result;
    }
    this.volts = volts;
    this.amps = amps;
    return { ok: true };
  }
}
customElements.define('ohm-entry', OhmEntry);

function sayNode(node: string): string {
  return node === 'case' ? words.node.case : node;
}

declare global {
  interface HTMLElementTagNameMap { 'ohm-entry': OhmEntry }
}
