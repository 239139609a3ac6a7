import { html, nothing, type TemplateResult } from 'lit';
import { sayForm } from '../../elements/circuit-forms/element.ts';
import { targetOf, type MeasureTarget } from '../../elements/measure-target.ts';
import { sayWhy } from '../../elements/say-why.ts';
import { words } from '../../words.ts';
import { benchWords } from '../../words/bench.ts';
import { fitsWords } from '../../words/fits.ts';
import type { WorkView } from '../work-view.ts';

/** What the readings say in short: contradictions, threads, tabs, the likeliest circuit, cautions, and all that can still be measured. */
export function renderFindingsSection({ findings, base, sheet }: WorkView, aim: (target: MeasureTarget) => void): TemplateResult {
  const { identify, fit, working, failed } = findings;
  if (identify === undefined) return html`<p class="quiet">${working ? words.working : failed === '' ? benchWords.nothingFound : failed}</p>`;
  const next = [...identify.measureNext, ...(fit?.measureNext ?? [])];
  const [circuit] = identify.circuits.toSorted((a, b) => b.probability - a.probability);
  const anything = identify.coils.length + identify.threads.length + identify.tabs.length + identify.circuits.length + identify.cautions.length > 0;
  return html`${working ? html`<p class="quiet" role="status">${words.working}</p>` : nothing}
    ${identify.conflicts.length === 0 ? nothing : html`<div class="caution"><p><b>${benchWords.conflicts}</b></p><ul>${identify.conflicts.map((entry) => html`<li>${entry.why}</li>`)}</ul></div>`}
    ${anything ? nothing : html`<p class="quiet">${benchWords.nothingFound}</p>`}
    <dl class="facts">
      ${identify.threads.filter((entry) => entry.candidates.length > 0).map((entry) => html`<div><dt>${words.asFound.terminal(entry.terminal)}</dt><dd>${benchWords.candidates(
        entry.candidates.filter(({ probability }) => probability >= LEAST_SHOWN).slice(0, 3).map((candidate) => ({ what: candidate.thread, probability: candidate.probability })))}</dd></div>`)}
      ${identify.tabs.filter((entry) => entry.candidates.length > 0).map((entry) => html`<div><dt>${words.asFound.terminal(entry.terminal)}</dt><dd>${benchWords.candidates(
        entry.candidates.filter(({ probability }) => probability >= LEAST_SHOWN).slice(0, 3).map((candidate) => ({ what: benchWords.tabOf(candidate.widthMm, candidate.thicknessMm), probability: candidate.probability })))}</dd></div>`)}
      ${circuit === undefined ? nothing : html`<div><dt>${benchWords.circuit}</dt><dd>${benchWords.candidates([{ what: sayForm(circuit.form), probability: circuit.probability }])}</dd></div>`}
    </dl>
    ${identify.cautions.map((line) => html`<p class="caution">${line}</p>`)}
    ${next.length === 0 ? nothing : html`<h3>${fitsWords.measureNext}</h3><ol class="next-list">${next.slice(0, MOST_SHOWN).map((entry) => {
      const target = targetOf(entry.what, sheet.record);
      return html`<li>${target === undefined ? entry.what : html`<button type="button" class="plain" @click=${() => aim(target)}>${entry.what}</button>`}
        <small>${sayWhy(entry.why)}</small></li>`;
    })}</ol>${next.length <= MOST_SHOWN ? nothing : html`<p class="quiet">${benchWords.moreOpen(next.length - MOST_SHOWN)}</p>`}`}
    <p><a class="button" href="${base}/fits">${benchWords.toFits}</a></p>`;
}

const MOST_SHOWN = 5;
/** A candidate rarer than this is not worth a word. */
const LEAST_SHOWN = 0.01;
