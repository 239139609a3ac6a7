import { html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { Fit } from '../../../catalog-schema/index.ts';
import { formatMoney } from '../../format.ts';
import { fitsWords } from '../../words/fits.ts';
import type { WorkView } from '../work-view.ts';
import { sayReason, sayWhatItTakes, sayWhere } from './fit-words.ts';

export interface FitRowInput {
  readonly view: WorkView;
  readonly fit: Fit;
  readonly picked: boolean;
  /** no more parts can be laid beside those picked */
  readonly full: boolean;
  readonly onPick: (picked: boolean) => void;
}

/** A fit in one line, and beside it the one tap that picks it for laying side by side. */
export function renderFitRow({ view, fit, picked, full, onPick }: FitRowInput): TemplateResult {
  const { desk, sheet, base } = view;
  const title = desk.shop.parts.get(fit.partId)?.title ?? fit.partId;
  const chosen = sheet.document.chosen?.partId === fit.partId;
  const settled = fit.verdict === 'direct' || fit.verdict === 'adapt';
  return html`<li class="fit-line"><a class="row fit-row" href="${base}/fits/${encodeURIComponent(fit.partId)}">
    <span class="verdict verdict-${fit.verdict}">${fitsWords.verdicts[fit.verdict]}${chosen ? html` <span class="mark-do">${fitsWords.chosen}</span>` : nothing}</span>
    <span><span class="row-main">${title}</span> <span class="number">${fit.partId}</span></span>
    <span class="row-what">${settled ? sayWhatItTakes(fit) : sayReason(fit)}</span>
    ${fit.verdict === 'no' ? nothing : html`<span class="row-state">${renderCost(fit, view)}
      <span class="row-part">${sayWhere(fit, desk.shop.shelf, desk.shop.prices)}</span>
      ${fit.fitProbability === null ? nothing : html`<span class="row-part">${fitsWords.likely(fit.fitProbability)}</span>`}</span>`}
  </a>
  <label class="pick"><input type="checkbox" .checked=${live(picked)} ?disabled=${full && !picked} aria-label=${fitsWords.pickOf(title)}
    @change=${(event: Event) => onPick((event.target as HTMLInputElement).checked)}></label></li>`;
}

function renderCost({ expectedCost }: Fit, { desk }: WorkView): TemplateResult | typeof nothing {
  if (expectedCost !== null) return html`<b class="figure-inline">${formatMoney(expectedCost.total, expectedCost.currency)}</b>`;
  return desk.shop.prices === undefined ? nothing : html`<span class="row-part quiet">${fitsWords.noPrice}</span>`;
}
