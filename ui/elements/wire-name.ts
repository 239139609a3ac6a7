import { html, type TemplateResult } from 'lit';
import type { Wire } from '../../catalog-schema/index.ts';
import { readWireColour } from '../drawing/index.ts';
import { renderWireSwatch } from './wire-swatch.ts';

/** A wire as it is named everywhere: its tag, a piece of it in its own colours, the letters and the colour in words. */
export function renderWireName(wire: Pick<Wire, 'tag' | 'colour'>): TemplateResult {
  const { letters, words } = readWireColour(wire.colour);
  return html`<span class="wire-name"><b>${wire.tag}</b>${renderWireSwatch(wire.colour)}<span>${letters} <span class="quiet">${words}</span></span></span>`;
}
