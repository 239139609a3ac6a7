import { html, nothing, type TemplateResult } from 'lit';
import '../../elements/circuit-forms/element.ts';
import { formatNumber } from '../../format.ts';
import { benchWords } from '../../words/bench.ts';
import type { WorkView } from '../work-view.ts';

/** A voltage rarer than this is not worth a word. */
const LEAST_SHOWN = 0.01;

/** What the ohms say is inside: each coil with what it draws and its likely volts, and the circuit forms still possible. */
export function renderInsideSection({ sheet, findings: { identify } }: WorkView): TemplateResult {
  if (identify === undefined || identify.coils.length + identify.circuits.length === 0) return html`<p class="quiet">${benchWords.insideNothing}</p>`;
  return html`${identify.coils.length === 0 ? nothing : html`<dl class="facts">${identify.coils.map((coil) => html`<div>
      <dt>${benchWords.coilBetween(coil.between[0], coil.between[1])}</dt>
      <dd><span class="number coil-ohm">${benchWords.coilOhm(formatNumber(coil.ohmAt20C))}</span><br>${benchWords.coilDraws(formatNumber(coil.amps), formatNumber(coil.watts, 1), formatNumber(sheet.record.system.nominalV))}
        ${coil.nominalV.length === 0 ? nothing : html`<br>${benchWords.coilMadeFor(benchWords.candidates(
          coil.nominalV.filter(({ probability }) => probability >= LEAST_SHOWN).slice(0, 3).map((entry) => ({ what: `${entry.volts} V`, probability: entry.probability }))))}`}</dd></div>`)}</dl>`}
    ${identify.circuits.length === 0 ? nothing : html`<circuit-forms .circuits=${identify.circuits} .record=${sheet.record}></circuit-forms>`}`;
}
