import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { StockRow } from '../../../catalog-schema/index.ts';
import type { Move, ShelfBooks } from '../../client/index.ts';
import { sayFault } from '../../say-fault.ts';
import { shelfWords } from '../../words/shelf-screens.ts';
import { renderChoices } from '../choices.ts';
import { PlainElement } from '../plain-element.ts';
import { makeMove, type Filled, type FormFault, type MoveAct } from './make-move.ts';

const ACTS = ['in', 'out', 'transfer', 'scrap', 'count'] as const satisfies readonly MoveAct[];
const { part: say } = shelfWords;

/**
 * `<move-form>`: one move of a part, filled in and booked. What it does is on the button before it is pressed.
 *
 * Properties: `books` · `partId` · `rows` the part's bins. Event (bubbling): `moves-booked` {waiting}: kept on this device, not sent yet.
 */
export class MoveForm extends PlainElement {
  static override properties = { books: { attribute: false }, partId: {}, rows: { attribute: false }, act: { state: true }, filled: { state: true }, shown: { state: true }, failed: { state: true }, busy: { state: true } };
  declare books: ShelfBooks;
  declare partId: string;
  declare rows: readonly StockRow[];
  declare act: MoveAct;
  declare filled: Filled;
  /** faults are shown once it was tried */
  declare shown: boolean;
  declare failed: string;
  declare busy: boolean;

  constructor() {
    super();
    this.rows = [];
    this.act = 'in';
    this.filled = {};
    this.shown = false;
    this.failed = '';
    this.busy = false;
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('partId')) Object.assign(this, { filled: {}, shown: false, failed: '' });
  }

  protected override render(): TemplateResult {
    const filled = this.#withDefaults();
    const made = makeMove(this.act, filled, this.rows);
    const faults = this.shown && !made.ok ? made.faults : [];
    const row = this.rows.find(({ bin }) => bin === filled.bin);
    return html`<form class="stack" novalidate @submit=${(event: Event) => { event.preventDefault(); void this.#book(made); }}>
      ${renderChoices({ name: 'move-act', legend: say.what, value: this.act, choices: ACTS.map((value) => ({ value, label: say.acts[value], hint: say.actHints[value] })),
        onChoose: (act) => { Object.assign(this, { act, shown: false, failed: '' }); } })}
      <div class="move-fields">
        ${this.#renderField('bin', say.inBin, filled.bin ?? '', faults, { list: true })}
        ${this.act === 'transfer' ? this.#renderField('toBin', say.toBin, filled.toBin ?? '', faults, { list: true }) : nothing}
        ${this.#renderField('qty', this.act === 'count' ? say.counted : say.qty, filled.qty ?? '', faults, { numeric: true })}
        ${this.act === 'in' ? this.#renderField('unitCost', say.cost(this.books.currency), filled.unitCost ?? '', faults, { decimal: true }) : nothing}
        ${this.#renderField('reason', say.reason, filled.reason ?? '', faults, { hint: say.reasonHint })}
      </div>
      <datalist id="move-bins">${this.rows.map(({ bin }) => html`<option value=${bin}></option>`)}</datalist>
      ${this.act === 'count' && made.ok ? html`<p role="status" class="mark-do">${say.difference(row?.onHand ?? 0, made.move.qty)}</p>` : nothing}
      ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      <p><button class="main" ?disabled=${this.busy}>${made.ok ? say.book(this.act, made.move.qty, made.move.bin) : say.acts[this.act]}</button></p></form>`;
  }

  #renderField(name: keyof Filled, label: string, value: string, faults: readonly FormFault[], more: { list?: boolean; numeric?: boolean; decimal?: boolean; hint?: string }): TemplateResult {
    const fault = faults.find(({ field }) => field === name);
    return html`<div class="field"><label for="move-${name}">${label}</label>
      <input id="move-${name}" .value=${value} autocomplete="off" maxlength="200" list=${more.list ? 'move-bins' : nothing} inputmode=${more.numeric ? 'numeric' : more.decimal ? 'decimal' : 'text'}
        aria-invalid=${fault === undefined ? 'false' : 'true'} aria-describedby="move-${name}-hint" @input=${(event: Event) => { this.filled = { ...this.filled, [name]: (event.target as HTMLInputElement).value }; }}>
      <small id="move-${name}-hint" class=${fault === undefined ? '' : 'not'}>${fault === undefined ? more.hint ?? '' : fault.why}</small></div>`;
  }

  /** What nobody typed yet: the first bin, one unit, what one cost before. */
  #withDefaults(): Filled {
    const first = this.rows.find(({ free }) => free > 0) ?? this.rows[0];
    const bin = this.filled.bin ?? first?.bin ?? '';
    const row = this.rows.find((one) => one.bin === bin) ?? first;
    return { bin, qty: this.act === 'count' ? '' : '1', ...(row === undefined ? {} : { unitCost: String(row.unitCost) }), ...this.filled };
  }

  async #book(made: ReturnType<typeof makeMove>): Promise<void> {
    this.shown = true;
    this.failed = '';
    if (!made.ok) {
      await this.updateComplete;
      this.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
      return;
    }
    if (this.busy) return;
    this.busy = true;
    const { filled } = this;
    try {
      const move: Move = { ...made.move, partId: this.partId };
      const went = await this.books.book([move]);
      // Who typed on meanwhile keeps what they typed.
      if (this.filled === filled) Object.assign(this, { filled: {}, shown: false });
      this.dispatchEvent(new CustomEvent('moves-booked', { detail: { waiting: went === 'waiting' }, bubbles: true }));
    } catch (error) {
      this.failed = sayFault(error);
    } finally {
      this.busy = false;
    }
  }
}
customElements.define('move-form', MoveForm);
