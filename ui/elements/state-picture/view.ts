import { html, type TemplateResult } from 'lit';
import { drawState, layStateSheet, type StateInput } from '../../drawing/index.ts';

/** One lit circuit; keeps no state. */
export function viewStatePicture(input: StateInput): TemplateResult {
  const sheet = layStateSheet(input);
  return html`<svg width=${sheet.width} height=${sheet.height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`} role="img" aria-label=${sheet.spoken}>${drawState(sheet)}</svg>`;
}
