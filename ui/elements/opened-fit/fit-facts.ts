import { html, nothing, type TemplateResult } from 'lit';
import type { Fit, Part } from '../../../catalog-schema/index.ts';
import { sayWhatItTakes, sayWhere } from '../../screens/fits/fit-words.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';

/** What is to be known of a fit at a glance: what it takes, where it is, how likely it works, what the shop has seen, its numbers. */
export function renderFitFacts({ desk: { shop } }: WorkView, fit: Fit, part: Part): TemplateResult {
  const mayGoOn = fit.verdict !== 'no';
  const fact = (name: string, said: string | TemplateResult, style = ''): TemplateResult => html`<div><dt>${name}</dt><dd class=${style}>${said}</dd></div>`;
  return html`<dl class="facts">
    ${mayGoOn ? fact(fitsWords.takes, sayWhatItTakes(fit)) : nothing}
    ${fit.kit.length === 0 ? nothing : fact(fitsWords.kit, html`${fit.kit.map((entry) => html`${fitsWords.kitItem(entry.qty, entry.item, entry.detail)}<br>`)}`)}
    ${mayGoOn ? fact(words.get.where, sayWhere(fit, shop.shelf, shop.prices)) : nothing}
    ${mayGoOn && fit.fitProbability !== null ? fact(fitsWords.works, fitsWords.likely(fit.fitProbability)) : nothing}
    ${renderLearned(fit, fact)}
    ${part.numbers === undefined ? nothing : fact(fitsWords.numbers, part.numbers.map((entry) => `${entry.issuer} ${entry.number}`).join(', '))}
    ${(part.replaces ?? []).length === 0 ? nothing
      : fact('', fitsWords.replaces(words.list(part.replaces!.map((claim) => `${claim.issuer} ${claim.number}`))), 'quiet')}
    ${part.supersededBy === undefined ? nothing
      : fact('', fitsWords.supersededBy(words.list(part.supersededBy.map((id) => shop.parts.get(id)?.title ?? id))), 'mark-do')}
  </dl>`;
}

function renderLearned({ learned, fitProbability }: Fit, fact: (name: string, said: TemplateResult | string, style?: string) => TemplateResult): TemplateResult | typeof nothing {
  if (learned === undefined) return fitProbability === null ? nothing : fact(fitsWords.learnedTitle, fitsWords.learnedNothing, 'quiet');
  return fact(fitsWords.learnedTitle, html`${fitsWords.learned(learned.held, learned.cameBack)}<br>
    <small>${fitsWords.learnedShare(learned.low, learned.high)}${learned.machineKind === undefined ? nothing : `, ${fitsWords.learnedOn(learned.machineKind)}`}</small>`);
}
