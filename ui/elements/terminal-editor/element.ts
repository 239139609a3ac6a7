import { html, nothing, type TemplateResult } from 'lit';
import { terminalForm, type BenchRecord, type RecordTerminal, type TerminalForm } from '../../../catalog-schema/index.ts';
import type { FieldChange, WorkSheet } from '../../client/index.ts';
import { addTerminal } from '../../screens/as-found/terminal-layout.ts';
import { words } from '../../words.ts';
import { renderChoices } from '../choices.ts';
import '../field-choice/element.ts';
import { PlainElement } from '../plain-element.ts';

const FORMS: readonly TerminalForm[] = terminalForm.options;
const STEP_MM = 2;
const MOVES = [['left', -STEP_MM, 0], ['right', STEP_MM, 0], ['up', 0, STEP_MM], ['down', 0, -STEP_MM]] as const;

/** Changes the terminals of a record: form, stamp and place of the chosen one; adding and removing. */
export class TerminalEditor extends PlainElement {
  static override properties = { sheet: { attribute: false }, record: { attribute: false }, terminalId: {}, failed: { state: true } };
  declare sheet: WorkSheet;
  /** the sheet's record, so that a change of it is seen */
  declare record: BenchRecord;
  declare terminalId: string | undefined;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
  }

  protected override render(): TemplateResult {
    const terminals = this.record.terminals ?? [];
    const terminal = terminals.find((entry) => entry.id === this.terminalId);
    return html`<div class="stack">
      ${terminal === undefined ? nothing : this.#renderTerminal(terminal)}
      <div class="button-row">${(['stud', 'tab'] as const).map((form) => html`<button type="button"
        @click=${() => this.#add(form)}>${words.asFound.addTerminal(words.form[form].toLowerCase())}</button>`)}</div>
      ${this.failed === '' ? nothing : html`<p class="not" role="alert">${this.failed}</p>`}
    </div>`;
  }

  #renderTerminal(terminal: RecordTerminal): TemplateResult {
    const { id } = terminal;
    const wires = (this.record.wires ?? []).filter((wire) => wire.wasOn === id).map((wire) => wire.tag);
    return html`<h3>${words.asFound.terminal(id)}</h3>
      <field-choice .sheet=${this.sheet} .at=${[['record', 'terminals', id]]}></field-choice>
      ${renderChoices({
        name: `form-${id}`, legend: words.asFound.form, value: terminal.form,
        choices: FORMS.map((form) => ({ value: form, label: words.form[form] })),
        onChoose: (form) => this.#change([{ field: ['record', 'terminals', id, 'form'], value: form }]),
      })}
      <div class="field"><label for="marking-${id}">${words.asFound.marking}</label>
        <input id="marking-${id}" class="short" maxlength="20" autocomplete="off" .value=${terminal.marking ?? ''} aria-describedby="marking-hint-${id}"
          @change=${(event: Event) => this.#mark(id, (event.target as HTMLInputElement).value.trim())}>
        <small id="marking-hint-${id}">${words.asFound.markingHint}</small></div>
      <div><p class="field-label">${words.asFound.move}</p><div class="button-row">${MOVES.map(([way, x, y]) => html`<button type="button"
        @click=${() => this.#move(terminal, x, y)}>${words.asFound.moves[way]}</button>`)}</div></div>
      <div><button type="button" @click=${() => this.#remove(id)}>${wires.length === 0 ? words.asFound.removeTerminal
        : words.asFound.removeTerminalWires(words.list(wires))}</button></div>`;
  }

  #mark(id: string, marking: string): void {
    this.#change([{ field: ['record', 'terminals', id, 'marking'], value: marking === '' ? null : marking }]);
  }

  #move(terminal: RecordTerminal, x: number, y: number): void {
    const at = terminal.at ?? { xMm: 0, yMm: 0 };
    this.#change([
      { field: ['record', 'terminals', terminal.id, 'at'], value: { xMm: at.xMm + x, yMm: at.yMm + y } },
      { field: ['record', 'terminals', terminal.id, 'atBy'], value: 'eye' },
    ]);
  }

  #add(form: TerminalForm): void {
    const { id, ...rest } = addTerminal(this.record.terminals ?? [], form);
    this.#change([{ field: ['record', 'terminals', id], value: rest }]);
  }

  /** A terminal goes together with what refers to it, as one act. */
  #remove(id: string): void {
    const { record } = this;
    const { document } = this.sheet;
    const ohms = (document.record['ohms'] ?? {}) as Record<string, { between?: readonly string[] }>;
    this.#change([
      ...(record.wires ?? []).filter((wire) => wire.wasOn === id).map((wire) => ({ field: ['record', 'wires', wire.tag], value: null })),
      ...Object.entries(ohms).filter(([, reading]) => reading.between?.includes(id)).map(([key]) => ({ field: ['record', 'ohms', key], value: null })),
      { field: ['record', 'terminals', id], value: null },
    ]);
  }

  #change(changes: readonly FieldChange[]): void {
    const result = this.sheet.change(changes);
    this.failed = result.ok ? '' : result.why;
  }
}
customElements.define('terminal-editor', TerminalEditor);
