import { html, nothing, type TemplateResult } from 'lit';
import type { Fit, Part } from '../../../catalog-schema/index.ts';
import { sayWhatItTakes, sayWhere } from '../../screens/fits/fit-words.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { words } from '../../words.ts';

/** What is to be known of a fit at a glance: what it takes, where it is, how likely it works, what the shop has seen, its numbers. */
export function renderFitFacts({ desk: { shop } }: WorkView, fit: Fit, part: Part): TemplateResult {
  const mayGoOn = fit.verdict !== 'no';
  const fact = (name: string, said: string | TemplateResult, style = ''): TemplateResult => html`<div><dt>${name}</dt><dd class=${style}>${said}</dd></div>`;
  return html`<dl class="facts">
    ${mayGoOn ? fact(words.fits.takes, sayWhatItTakes(fit)) : nothing}
    ${fit.kit.length === 0 ? nothing : fact(words.fits.kit, html`${fit.kit.map((entry) => html`${words.fits.kitItem(entry.qty, entry.item, entry.detail)}<br>`)}`)}
    ${mayGoOn ? fact(words.get.where, sayWhere(fit, shop.shelf, shop.prices)) : nothing}
    ${mayGoOn && fit.fitProbability !== null ? fact(words.fits.works, words.fits.likely(fit.fitProbability)) : nothing}
    ${renderLearned(fit, fact)}
    ${part.numbers === undefined ? nothing : fact(words.fits.numbers, part.numbers.map((entry) => `${entry.issuer} ${entry.number}`).join(', '))}
    ${(part.replaces ?? []).length === 0 ? nothing
      : fact('', words.fits.replaces(words.list(part.replaces!.map((claim) => `${claim.issuer} ${claim.number}`))), 'quiet')}
    ${part.supersededBy === undefined ? nothing
      : fact('', words.fits.supersededBy(words.list(part.supersededBy.map((id) => shop.parts.get(id)?.title ?? id))), 'mark-do')}
  </dl>`;
}

function renderLearned({ learned, fitProbability }: Fit, fact: (name: string, said: TemplateResult | string, style?: string) => TemplateResult): TemplateResult | typeof nothing {
  if (learned === undefined) return fitProbability === null ? nothing : fact(words.fits.learnedTitle, words.fits.learnedNothing, 'quiet');
  return fact(words.fits.learnedTitle, html`${words.fits.learned(learned.held, learned.cameBack)}<br>
    <small>${words.fits.learnedShare(learned.low, learned.high)}${learned.machineKind === undefined ? nothing : `, ${words.fits.learnedOn(learned.machineKind)}`}</small>`);
}
