import { html, nothing, type TemplateResult } from 'lit';
import { readQuantity, type JsonValue } from '../../../catalog-schema/index.ts';
import type { ChangeResult, LengthUnit } from '../../client/index.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';
import { dimensionOf } from '../say-entry.ts';

let answers = 0;

/** Something else than the answers there are, typed: where all of them are texts or numbers. Nothing elsewhere. */
export class ThirdAnswer extends PlainElement {
  static override properties = { field: { attribute: false }, values: { attribute: false }, unit: {}, commit: { attribute: false }, text: { state: true }, failed: { state: true } };
  declare field: readonly string[];
  /** the answers there are; null for none */
  declare values: readonly JsonValue[];
  declare unit: LengthUnit;
  declare commit: (value: string | number) => ChangeResult;
  declare text: string;
  declare failed: string;
  #id = `third-${answers += 1}`;

  constructor() {
    super();
    this.text = '';
    this.failed = '';
  }

  get #kinds(): string[] { return this.values.filter((value) => value !== null).map((value) => typeof value); }

  protected override render(): TemplateResult | typeof nothing {
    const kinds = this.#kinds;
    if (kinds.some((kind) => kind !== 'string' && kind !== 'number')) return nothing;
    return html`<details class="choice-third"><summary>${words.conflicts.third}</summary>
      <form class="field" @submit=${(event: Event) => { event.preventDefault(); this.#take(); }}>
        <label class="visually-hidden" for=${this.#id}>${words.conflicts.third}</label>
        <div class="field-row"><input id=${this.#id} .value=${this.text} autocomplete="off" maxlength="2000" inputmode=${kinds.includes('number') ? 'decimal' : 'text'}
          aria-invalid=${this.failed === '' ? 'false' : 'true'} aria-describedby="${this.#id}-said" @input=${(event: Event) => { this.text = (event.target as HTMLInputElement).value; }}>
        <button>${words.conflicts.thirdSave}</button></div>
        <small id="${this.#id}-said" class="not" aria-live="polite">${this.failed}</small></form></details>`;
  }

  #take(): void {
    const text = this.text.trim();
    if (text === '') return;
    const read = this.#kinds.includes('number') ? readQuantity(text, dimensionOf(this.field.at(-1) ?? ''), this.unit) : undefined;
    if (read?.ok === false) {
      this.failed = read.fault;
      return;
    }
    const result = this.commit(read?.value ?? text);
    this.failed = result.ok ? '' : words.field.cannotBe(result.why);
    if (result.ok) this.text = '';
  }
}
customElements.define('third-answer', ThirdAnswer);
