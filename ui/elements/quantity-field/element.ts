import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { CONTRACT_UNIT, isOpenReading, readQuantity, type Dimension, type Measured } from '../../../catalog-schema/index.ts';
import type { ChangeResult, LengthUnit } from '../../client/index.ts';
import { formatNumber, valueOf } from '../../format.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';
import { instrumentOf, INSTRUMENTS, measureWith, type FigureKind, type InstrumentName } from './instruments.ts';
import { renderNumberPad } from './number-pad.ts';

/** After this pause a wrong entry is called wrong: long enough not to scold '5/' on its way to '5/16'. */
const WRONG_AFTER_MS = 500;
let fields = 0;

/**
 * A field for a measured number: reads what people write, echoes what it understood, says at the field what is wrong.
 * `commit` is called with the value in the contract's unit when the field is left, undefined when it was emptied.
 */
export class QuantityField extends PlainElement {
  static override properties = {
    label: {}, hint: {}, dimension: {}, unit: {}, figure: {},
    value: { attribute: false, hasChanged: (now: unknown, before: unknown) => JSON.stringify(now) !== JSON.stringify(before) }, commit: { attribute: false }, openAllowed: { type: Boolean },
    text: { state: true }, said: { state: true }, wrong: { state: true }, instrument: { state: true }, padOpen: { state: true },
  };
  declare label: string;
  declare hint: string;
  declare dimension: Dimension;
  declare unit: LengthUnit;
  /** which instruments are offered; none where the class's default always holds */
  declare figure: FigureKind | undefined;
  declare value: Measured | 'open' | undefined;
  declare commit: (value: Measured | 'open' | undefined) => ChangeResult;
  /** 'open' and 'OL' are readings too */
  declare openAllowed: boolean;
  declare text: string | undefined;
  declare said: string;
  declare wrong: string;
  declare instrument: InstrumentName;
  declare padOpen: boolean;
  #id = `quantity-${fields += 1}`;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    super();
    this.hint = '';
    this.unit = 'mm';
    this.dimension = 'length';
    this.openAllowed = false;
    this.said = '';
    this.wrong = '';
    this.instrument = 'caliper';
    this.padOpen = false;
  }

  protected override willUpdate(changed: PropertyValues): void {
    if ((changed.has('value') || changed.has('figure')) && this.figure !== undefined) {
      this.instrument = instrumentOf(this.value === 'open' ? undefined : this.value, INSTRUMENTS[this.figure]);
    }
    if (changed.has('value') && this.wrong === '') this.text = undefined;
  }

  protected override updated(changed: PropertyValues): void {
    // A field low on a phone's screen would open its pad below the edge.
    if (changed.has('padOpen') && this.padOpen) this.querySelector('.pad')?.scrollIntoView({ block: 'nearest' });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
  }

  protected override render(): TemplateResult {
    const id = this.#id;
    return html`<div class="field quantity" @focusout=${(event: FocusEvent) => { if (!this.contains(event.relatedTarget as Node | null)) this.padOpen = false; }}>
      <label for=${id}>${this.label}</label>
      <span class="field-row">
        <input id=${id} .value=${this.text ?? this.#print()} autocomplete="off" spellcheck="false" maxlength="60"
          inputmode=${hasCoarsePointer() ? 'none' : 'decimal'} aria-invalid=${this.wrong === '' ? 'false' : 'true'} aria-describedby="${id}-said"
          @focus=${(event: FocusEvent) => { this.padOpen = hasCoarsePointer(); (event.target as HTMLInputElement).select(); }}
          @input=${(event: Event) => this.#type((event.target as HTMLInputElement).value)} @change=${() => this.#leave()}>
        ${this.figure === undefined ? nothing : this.#renderInstrument(this.figure)}
      </span>
      <small id="${id}-said" aria-live="polite">${this.wrong !== '' ? html`<span class="not">${this.wrong}</span>`
        : this.said !== '' ? html`<span class="understood">${words.field.understood(this.said)}</span>` : this.hint}</small>
      ${this.padOpen ? renderNumberPad({ onKey: (key) => this.#press(key), onDone: () => this.#closePad(), units: this.dimension === 'length', open: this.openAllowed }) : nothing}
    </div>`;
  }

  #renderInstrument(figure: FigureKind): TemplateResult {
    return html`<select aria-label=${words.field.instrumentOf(this.label)} .value=${this.instrument}
      @change=${(event: Event) => { this.instrument = (event.target as HTMLSelectElement).value as InstrumentName; if (this.value !== undefined || this.text !== undefined) this.#leave(); }}>
      ${INSTRUMENTS[figure].map((entry) => html`<option value=${entry.name} ?selected=${entry.name === this.instrument}>${words.field.instruments[entry.name]} ${this.#printHalf(entry.shown)}</option>`)}
      ${this.instrument === 'own' && this.value !== undefined && typeof this.value === 'object'
        ? html`<option value="own" selected>${this.#printHalf(this.value.plusMinus)}</option>` : nothing}
    </select>`;
  }

  #printHalf(mm: number): string {
    return this.unit === 'inch' ? `± ${formatNumber(mm / 25.4, 3)} in` : `± ${formatNumber(mm)} mm`;
  }

  /** The stored value as a person would have typed it. */
  #print(): string {
    if (this.value === undefined) return '';
    if (this.value === 'open') return words.field.open;
    const value = valueOf(this.value);
    if (this.dimension === 'length' && this.unit === 'inch') return `${formatNumber(value / 25.4, 4)} in`;
    return `${formatNumber(value, 4)} ${CONTRACT_UNIT[this.dimension]}`.trim();
  }

  #type(text: string): void {
    this.text = text;
    clearTimeout(this.#timer);
    const read = this.#read(text);
    if (read.ok) {
      this.wrong = '';
      this.said = read.understood;
    } else {
      this.said = '';
      this.#timer = setTimeout(() => { this.wrong = read.fault; }, WRONG_AFTER_MS);
    }
  }

  #read(text: string): { ok: true; value: number | 'open' | undefined; understood: string } | { ok: false; fault: string } {
    if (text.trim() === '') return { ok: true, value: undefined, understood: '' };
    if (this.openAllowed && isOpenReading(text)) return { ok: true, value: 'open', understood: words.field.open };
    return readQuantity(text, this.dimension, this.unit);
  }

  #leave(): void {
    clearTimeout(this.#timer);
    const read = this.#read(this.text ?? this.#print());
    if (!read.ok) {
      this.wrong = read.fault;
      return;
    }
    const own = typeof this.value === 'object' ? this.value.plusMinus : undefined;
    const { value } = read;
    const measured = typeof value !== 'number' || this.figure === undefined ? value : measureWith(value, this.instrument, INSTRUMENTS[this.figure], own);
    const result = this.commit(measured);
    this.wrong = result.ok ? '' : words.field.cannotBe(result.why);
    if (result.ok) this.text = undefined;
  }

  #press(key: string): void {
    const input = this.querySelector('input')!;
    if (key === 'back') {
      const end = input.selectionEnd ?? input.value.length;
      const start = input.selectionStart ?? end;
      input.setRangeText('', start === end ? Math.max(0, start - 1) : start, end, 'end');
    } else if (key === 'open') input.value = words.field.open;
    else input.setRangeText(key, input.selectionStart ?? input.value.length, input.selectionEnd ?? input.value.length, 'end');
    this.#type(input.value);
  }

  #closePad(): void {
    this.padOpen = false;
    this.#leave();
  }
}
customElements.define('quantity-field', QuantityField);

/** A finger, not a mouse: the own number pad then stands in for the keyboard, which has no '/' beside its digits. */
function hasCoarsePointer(): boolean {
  return matchMedia('(pointer: coarse)').matches;
}
