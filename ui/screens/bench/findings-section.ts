import { html, nothing, type TemplateResult } from 'lit';
import { formatNumber } from '../../format.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';

/** What the readings say: coils, threads, tabs, contradictions, and what to measure next. */
export function renderFindingsSection({ findings, base }: WorkView): TemplateResult {
  const { identify, fit, working, failed } = findings;
  if (identify === undefined) return html`<p class="quiet">${working ? words.working : failed === '' ? words.bench.nothingFound : failed}</p>`;
  const next = [...(fit?.measureNext ?? []), ...identify.measureNext];
  const anything = identify.coils.length + identify.threads.length + identify.tabs.length + identify.circuits.length + identify.cautions.length > 0;
  return html`${working ? html`<p class="quiet" role="status">${words.working}</p>` : nothing}
    ${identify.conflicts.length === 0 ? nothing : html`<div class="caution"><p><b>${words.bench.conflicts}</b></p><ul>${identify.conflicts.map((entry) => html`<li>${entry.why}</li>`)}</ul></div>`}
    ${anything ? nothing : html`<p class="quiet">${words.bench.nothingFound}</p>`}
    <dl class="facts">
      ${identify.coils.map((coil) => html`<div><dt>${words.bench.coilBetween(coil.between[0], coil.between[1])}</dt>
        <dd>${words.bench.coilIs(formatNumber(coil.ohmAt20C), formatNumber(coil.amps), formatNumber(coil.watts, 1))}
          ${words.bench.candidates(coil.nominalV.slice(0, 3).map((entry) => ({ what: `${entry.volts} V`, probability: entry.probability })))}</dd></div>`)}
      ${identify.threads.filter((entry) => entry.candidates.length > 0).map((entry) => html`<div><dt>${words.asFound.terminal(entry.terminal)}</dt><dd>${words.bench.candidates(
        entry.candidates.slice(0, 3).map((candidate) => ({ what: candidate.thread, probability: candidate.probability })))}</dd></div>`)}
      ${identify.tabs.filter((entry) => entry.candidates.length > 0).map((entry) => html`<div><dt>${words.asFound.terminal(entry.terminal)}</dt><dd>${words.bench.candidates(
        entry.candidates.slice(0, 3).map((candidate) => ({ what: words.bench.tabOf(candidate.widthMm, candidate.thicknessMm), probability: candidate.probability })))}</dd></div>`)}
      ${identify.circuits.length === 0 ? nothing : html`<div><dt>${words.bench.circuit}</dt><dd>${words.bench.candidates(
        identify.circuits.slice(0, 3).map((entry) => ({ what: sayForm(entry.form), probability: entry.probability })))}</dd></div>`}
    </dl>
    ${identify.cautions.map((line) => html`<p class="caution">${line}</p>`)}
    ${next.length === 0 ? nothing : html`<h3>${words.fits.measureNext}</h3><ol>${next.slice(0, 5).map((entry) => html`<li>${entry.what}<br><span class="quiet">${entry.why}</span></li>`)}</ol>`}
    <p><a class="button" href="${base}/fits">${words.bench.toFits}</a></p>`;
}

/** A common form in words; one the table does not know is said by its name. */
function sayForm(form: string): string {
  return form in words.bench.forms ? words.bench.forms[form as keyof typeof words.bench.forms] : form;
}
