import { html, nothing, type TemplateResult } from 'lit';

/** A field with its label, and a hint where there is one. `id` is unique in the page. */
export function renderField({ id, name, label, value, hint, type = 'text', min, step, required = false, maxlength = 2000, rows }: {
  id: string; name: string; label: string; value?: string | number | undefined; hint?: string; type?: 'text' | 'number' | 'date' | 'time'; min?: number; step?: string;
  required?: boolean; maxlength?: number; rows?: number;
}): TemplateResult {
  const hintId = `${id}-hint`;
  const text = value === undefined ? '' : String(value);
  return html`<div class="field"><label for=${id}>${label}</label>
    ${rows === undefined ? html`<input id=${id} name=${name} type=${type} inputmode=${type === 'number' ? 'decimal' : nothing} min=${min ?? nothing} step=${step ?? (type === 'number' ? 'any' : nothing)} ?required=${required}
        maxlength=${maxlength} autocomplete="off" aria-describedby=${hint === undefined ? nothing : hintId} .value=${text}>`
      : html`<textarea id=${id} name=${name} rows=${rows} maxlength=${maxlength} aria-describedby=${hint === undefined ? nothing : hintId} .value=${text}></textarea>`}
    ${hint === undefined ? nothing : html`<small id=${hintId}>${hint}</small>`}</div>`;
}
