import { html, type TemplateResult } from 'lit';
import { type CircuitInput, DRAWING_WORDS, type Rung, drawCircuit, endsOf, layCircuitSheet, sayId } from '../../drawing/index.ts';

export type CircuitPictureInput = CircuitInput & Readonly<{ caption: boolean }>;

/** What is inside a part, between its terminals and its case; keeps no state. */
export function viewCircuitPicture(input: CircuitPictureInput): TemplateResult {
  const sheet = layCircuitSheet(input);
  const state = input.pulledIn ? DRAWING_WORDS.circuit.pulledIn : DRAWING_WORDS.circuit.atRest;
  const said = sheet.rungs.map((rung) => DRAWING_WORDS.circuitElement(
    sayRung(rung), ...endsOf(rung.element).map(sayId) as [string, string]));
  return html`<svg width=${sheet.width} height=${sheet.height} viewBox=${`0 0 ${sheet.width} ${sheet.height}`} role="img"
      aria-label=${[state, ...said].join('; ')}>${drawCircuit(sheet)}</svg>
    ${input.caption ? html`<p class="caption">${state}</p>` : null}`;
}

/** An element with its kind said once. */
function sayRung(rung: Rung): string {
  const kind = DRAWING_WORDS.circuit[rung.element.kind];
  return rung.lines.some((line) => line.startsWith(kind)) ? rung.lines.join(' ') : `${kind} ${rung.lines.join(' ')}`;
}
