import { svg, html, type TemplateResult } from 'lit';
import { readWireColour } from '../drawing/index.ts';

/** A short piece of a wire in its own colours, between two ink lines; never alone, its letters and words stand beside it. */
export function renderWireSwatch(colour: string | undefined): TemplateResult {
  const { base, stripe, known } = readWireColour(colour);
  return html`<svg class="wire-swatch" width="36" height="14" viewBox="0 0 36 14" aria-hidden="true">
    <rect x="0.75" y="1.75" width="34.5" height="10.5" fill=${known ? base : 'none'} stroke="var(--ink)" stroke-width="1.5"
      stroke-dasharray=${known ? 'none' : '3 3'}></rect>
    ${stripe === null ? null : svg`<path d="M1.5 7 H34.5" stroke=${stripe} stroke-width="4" stroke-dasharray="14 3"></path>`}
  </svg>`;
}
