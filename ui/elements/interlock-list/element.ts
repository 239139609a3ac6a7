import { html, nothing, type TemplateResult } from 'lit';
import type { BenchRecord, JsonValue } from '../../../catalog-schema/index.ts';
import type { WorkSheet } from '../../client/index.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { PlainElement } from '../plain-element.ts';

type Interlock = NonNullable<BenchRecord['system']['interlockList']>[number];
const ACTS: readonly Interlock['acts'][] = ['return', 'feed', 'stops-engine'];

/** The machine's interlocks by name, each with what it does; every one is tested before sign-off. */
export class InterlockList extends PlainElement {
  static override properties = { sheet: { attribute: false }, record: { attribute: false }, acts: { state: true }, failed: { state: true } };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  /** what the next one to be added does; undefined until somebody has said */
  declare acts: Interlock['acts'] | undefined;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
  }

  get #list(): readonly Interlock[] { return this.record.system.interlockList ?? []; }

  /** As was picked last; else where the machine's interlocks are said to act, or its wires show that they do. */
  get #acts(): Interlock['acts'] {
    if (this.acts !== undefined) return this.acts;
    const { system: { interlocks }, wires = [] } = this.record;
    const inReturn = interlocks === undefined ? wires.length === 0 || wires.some(({ leadsTo }) => leadsTo === 'interlocked-return') : interlocks !== 'in-feed';
    return inReturn ? 'return' : 'feed';
  }

  /** an empty list says that the machine has none; no list says that nobody has looked */
  get #saidNone(): boolean { return this.record.system.interlockList?.length === 0; }

  protected override render(): TemplateResult {
    const list = this.#list;
    return html`<div class="stack"><p class="field-label">${benchWords.interlockList}</p>
      <p class="quiet">${benchWords.interlockListHint}</p>
      ${this.#saidNone ? html`<p class="button-row"><span>${benchWords.noInterlocks}</span>
        <button type="button" @click=${() => this.#set(undefined)}>${benchWords.takeBack}</button></p>` : nothing}
      ${list.length === 0 ? nothing : html`<ul class="rows">${list.map((entry, index) => html`<li class="row row-held"><span class="row-main">${entry.name}</span>
        <span>${words.bench.acts[entry.acts]}</span><button type="button" aria-label=${benchWords.removeInterlock(entry.name)}
          @click=${() => this.#set(list.length === 1 ? undefined : list.filter((_, at) => at !== index))}>${benchWords.takeBack}</button></li>`)}</ul>`}
      <div class="button-row">${benchWords.commonInterlocks.filter((name) => !list.some((entry) => entry.name === name)).map((name) => html`
        <button type="button" @click=${() => this.#set([...list, { name, acts: this.#acts }])}>${benchWords.addNamed(name)}</button>`)}
        ${list.length > 0 || this.#saidNone ? nothing : html`<button type="button" class="plain" @click=${() => this.#set([])}>${benchWords.hasNone}</button>`}</div>
      <form class="interlock-form" @submit=${(event: SubmitEvent) => { event.preventDefault(); this.#add(event.target as HTMLFormElement); }}>
        <label>${benchWords.otherInterlock}<input name="name" maxlength="60" autocomplete="off"></label>
        <label>${benchWords.whatItDoes}<select .value=${this.#acts} @change=${(event: Event) => { this.acts = (event.target as HTMLSelectElement).value as Interlock['acts']; }}>
          ${ACTS.map((acts) => html`<option value=${acts} ?selected=${acts === this.#acts}>${words.bench.acts[acts]}</option>`)}</select></label>
        <button type="submit">${benchWords.addInterlock}</button></form>
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}</div>`;
  }

  #add(form: HTMLFormElement): void {
    const input = form.elements.namedItem('name') as HTMLInputElement;
    const name = input.value.trim();
    if (name === '') { input.focus(); return; }
    if (this.#set([...this.#list, { name, acts: this.#acts }])) input.value = '';
  }

  #set(list: readonly Interlock[] | undefined): boolean {
    const result = this.sheet.change([{ field: ['record', 'system', 'interlockList'], value: list === undefined ? null : [...list] as JsonValue }]);
    this.failed = result.ok ? '' : result.why;
    return result.ok;
  }
}
customElements.define('interlock-list', InterlockList);
