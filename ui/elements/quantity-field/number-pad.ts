import { html, nothing, type TemplateResult } from 'lit';
import { words } from '../../words.ts';

const ROWS: readonly (readonly string[])[] = [['7', '8', '9', '/'], ['4', '5', '6', '-'], ['1', '2', '3', '.'], ['0']];

/** The number pad of a field: digits, fraction bar, dash, point; units for lengths, 'open' for ohms. Keeps the focus in the field. */
export function renderNumberPad(given: { onKey: (key: string) => void; onDone: () => void; units: boolean; open: boolean }): TemplateResult {
  const key = (value: string, label = value.trim()): TemplateResult => html`<button type="button" @click=${() => given.onKey(value)}>${label}</button>`;
  return html`<div class="pad" role="group" aria-label=${words.field.pad} @pointerdown=${(event: Event) => event.preventDefault()}>
    ${ROWS.flat().map((value) => key(value))}
    <button type="button" @click=${() => given.onKey('back')} aria-label=${words.field.backspace}>⌫</button>
    ${given.units ? html`${key(' mm')}${key(' in')}` : given.open ? html`${key('open', words.field.open)}` : nothing}
    <button type="button" class="main" @click=${given.onDone}>${words.field.done}</button>
  </div>`;
}
