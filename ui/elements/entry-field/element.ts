import { html, type PropertyValues, type TemplateResult } from 'lit';
import type { ChangeResult } from '../../client/index.ts';
import { words } from '../../words.ts';
import { PlainElement } from '../plain-element.ts';

export type Entry = { readonly ok: true; readonly understood: string } | { readonly ok: false; readonly fault: string };
let fields = 0;

/** A field for a word: a thread, a marking, a code. What was understood is echoed; what is wrong is said when the field is left. */
export class EntryField extends PlainElement {
  static override properties = {
    label: {}, hint: {}, value: {}, read: { attribute: false }, commit: { attribute: false },
    text: { state: true }, said: { state: true }, wrong: { state: true },
  };
  declare label: string;
  declare hint: string;
  declare value: string;
  /** says whether a text can be taken, and what it was understood as; every text, where absent */
  declare read: ((text: string) => Entry) | undefined;
  declare commit: (text: string) => ChangeResult;
  declare text: string | undefined;
  declare said: string;
  declare wrong: string;
  #id = `entry-${fields += 1}`;

  constructor() {
    super();
    this.hint = '';
    this.value = '';
    this.said = '';
    this.wrong = '';
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('value') && this.wrong === '') this.text = undefined;
  }

  protected override render(): TemplateResult {
    return html`<div class="field"><label for=${this.#id}>${this.label}</label>
      <input id=${this.#id} .value=${this.text ?? this.value} autocomplete="off" spellcheck="false" maxlength="200"
        aria-invalid=${this.wrong === '' ? 'false' : 'true'} aria-describedby="${this.#id}-said"
        @input=${(event: Event) => this.#type((event.target as HTMLInputElement).value)} @change=${() => this.#leave()}>
      <small id="${this.#id}-said" aria-live="polite">${this.wrong !== '' ? html`<span class="not">${this.wrong}</span>`
        : this.said === '' ? this.hint : html`<span class="understood">${words.field.understood(this.said)}</span>`}</small></div>`;
  }

  #type(text: string): void {
    this.text = text;
    const read = text.trim() === '' ? undefined : this.read?.(text);
    this.said = read?.ok === true ? read.understood : '';
    if (read === undefined || read.ok) this.wrong = '';
  }

  #leave(): void {
    const text = (this.text ?? this.value).trim();
    const read = text === '' ? undefined : this.read?.(text);
    if (read?.ok === false) {
      this.wrong = read.fault;
      return;
    }
    const result = this.commit(text);
    this.wrong = result.ok ? '' : words.field.cannotBe(result.why);
    if (result.ok) this.text = undefined;
  }
}
customElements.define('entry-field', EntryField);
