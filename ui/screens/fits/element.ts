import { html, nothing, type TemplateResult } from 'lit';
import type { Fit, FitAnswer, Verdict } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/lack-list/element.ts';
import '../../elements/opened-fit/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import { formatMoney } from '../../format.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';
import { sayReason, sayWhatItTakes, sayWhere } from './fit-words.ts';

type Filter = 'all' | Verdict;
const FILTERS: readonly Filter[] = ['all', 'direct', 'adapt', 'unproven', 'no'];
const PAGE = 25;

/** The parts of the catalogue that may go on, one line each; one of them opened. An answer to an older record is not shown. */
export class FitsScreen extends PlainElement {
  static override properties = { view: { attribute: false }, filter: { state: true }, shown: { state: true } };
  declare view: WorkView;
  declare filter: Filter;
  declare shown: number;

  constructor() {
    super();
    this.filter = 'all';
    this.shown = PAGE;
  }

  protected override render(): TemplateResult {
    const { view } = this;
    if (view.detail !== undefined) return html`<opened-fit .view=${view} .partId=${view.detail}></opened-fit>`;
    const { fit, working } = view.findings;
    return html`<div class="title-row"><h1>${words.fits.title}</h1>
        <p class="quiet" role="status">${working ? words.working : fit === undefined ? '' : words.fits.considered(fit.considered)}</p></div>
      ${fit === undefined || working ? nothing : this.#renderAnswer(fit)}`;
  }

  #renderAnswer(fit: FitAnswer): TemplateResult {
    const inFilter = (filter: Filter): readonly Fit[] =>
      fit.fits.filter((entry) => (filter === 'all' ? entry.verdict !== 'no' : entry.verdict === filter));
    const { parts } = this.view.desk.shop;
    const { partClass } = this.view.sheet.record;
    // Refused parts of the kind that came off are the ones somebody asks about: they come first.
    const isAlike = (entry: Fit): boolean => parts.get(entry.partId)?.partClass === partClass;
    const rows = this.filter === 'no' ? inFilter('no').toSorted((a, b) => Number(isAlike(b)) - Number(isAlike(a))) : inFilter(this.filter);
    const { reports } = this.view;
    return html`<lack-list .lacks=${[...reports['as-found'].lacks, ...reports.bench.lacks]} .fit=${fit}></lack-list>
      ${renderChoices({
        name: 'fit-filter', legend: words.fits.filter, value: this.filter, quietLegend: true,
        choices: FILTERS.map((filter) => ({
          value: filter,
          label: words.fits.filterCount(filter === 'all' ? words.fits.all : words.fits.verdicts[filter], inFilter(filter).length),
        })),
        onChoose: (filter) => { this.filter = filter; this.shown = PAGE; },
      })}
      ${rows.length === 0 ? html`<p>${this.filter !== 'all' ? words.fits.noneHere : reports.fits.state === 'empty' ? words.fits.noneYet : words.fits.none}</p>`
        : html`<ul class="rows fit-rows">${rows.slice(0, this.shown).map((row) => this.#renderRow(row))}</ul>`}
      ${rows.length > this.shown ? html`<p><button type="button" @click=${() => { this.shown += PAGE; }}>
        ${words.fits.more(Math.min(PAGE, rows.length - this.shown))}</button></p>` : nothing}`;
  }

  #renderRow(fit: Fit): TemplateResult {
    const { desk, sheet, base } = this.view;
    const part = desk.shop.parts.get(fit.partId);
    const chosen = sheet.document.chosen?.partId === fit.partId;
    const settled = fit.verdict === 'direct' || fit.verdict === 'adapt';
    return html`<li><a class="row fit-row" href="${base}/fits/${encodeURIComponent(fit.partId)}">
      <span class="verdict verdict-${fit.verdict}">${words.fits.verdicts[fit.verdict]}${chosen ? html` <span class="mark-do">${words.fits.chosen}</span>` : nothing}</span>
      <span><span class="row-main">${part?.title ?? fit.partId}</span> <span class="number">${fit.partId}</span></span>
      <span class="row-what">${settled ? sayWhatItTakes(fit) : sayReason(fit)}</span>
      <span class="row-state">${fit.verdict === 'no' ? nothing : sayWhere(fit.partId, desk.shop.shelf, desk.shop.prices)}
        ${fit.expectedCost === null ? nothing : html`<b class="figure-inline">${formatMoney(fit.expectedCost.total, fit.expectedCost.currency)}</b>`}</span>
    </a></li>`;
  }
}
customElements.define('fits-screen', FitsScreen);
