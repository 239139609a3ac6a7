import { html, type TemplateResult } from 'lit';
import { DRAWING_WORDS, type StackInput, drawStack, layStackSheet } from '../../drawing/index.ts';

/** The order of nut, lug and washer on one terminal; keeps no state. */
export function viewStackPicture(input: StackInput): TemplateResult {
  if (input.wires.length === 0 && input.jumpers === 0) return html`<p class="empty">${DRAWING_WORDS.stack.empty}</p>`;
  const sheet = layStackSheet(input);
  const said = sheet.layers.map((layer) => (layer.order === null ? '' : `${layer.order}. `) + layer.lines.join(' '));
  const words = [...said, ...(sheet.never === null ? [] : [sheet.never.lines.join(' ')])];
  return html`<svg width=${sheet.width} height=${sheet.height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`} role="img"
    aria-label=${words.join('; ')}>${drawStack(sheet, input.form)}</svg>`;
}
