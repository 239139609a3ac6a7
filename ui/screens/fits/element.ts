import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Fit, FitAnswer } from '../../../catalog-schema/index.ts';
import { renderChoices } from '../../elements/choices.ts';
import '../../elements/field-choice/element.ts';
import '../../elements/fit-readings/element.ts';
import '../../elements/lack-list/element.ts';
import '../../elements/opened-fit/element.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/side-by-side/element.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import type { WorkView } from '../work-view.ts';
import { filterFits, NO_FILTER, readSupply, VERDICT_CHOICES, type ListFilter, type PlaceChoice, type Supply } from './fit-filter.ts';
import { renderFitRow } from './fit-row.ts';
import { LongerList } from './longer-list.ts';
import { MOST_PICKED, readPicked, writePicked } from './picked.ts';

/** Rows drawn at a time: a longer list is drawn on asking. */
const PAGE = 25;

/** The parts of the catalogue that may go on, one line each; one of them opened; up to three beside the removed part. */
export class FitsScreen extends PlainElement {
  static override properties = { view: { attribute: false }, filter: { state: true }, shown: { state: true }, picked: { state: true } };
  declare view: WorkView;
  declare filter: ListFilter;
  declare shown: number;
  declare picked: readonly string[];
  #longer: LongerList | undefined;
  #supply: { of: unknown; supply: Supply } | undefined;

  constructor() {
    super();
    this.filter = NO_FILTER;
    this.shown = PAGE;
    this.picked = [];
    followChanges(this, () => [this.#longer]);
  }

  protected override willUpdate(changed: PropertyValues): void {
    const { detail, desk, findings, sheet } = this.view;
    const beside = readPicked(detail, desk.shop.parts);
    if (changed.has('view') && beside !== undefined) this.picked = beside;
    if (!this.#isWhole && findings.fit !== undefined && !findings.working) {
      this.#longer ??= new LongerList(desk.engine);
      this.#longer.look(sheet.record, findings.question, this.filter);
    }
  }

  protected override render(): TemplateResult {
    const { view } = this;
    if (readPicked(view.detail, view.desk.shop.parts) !== undefined) return html`<side-by-side .view=${view} .partIds=${this.picked}></side-by-side>`;
    if (view.detail !== undefined) return html`<opened-fit .view=${view} .partId=${view.detail}></opened-fit>`;
    const { fit, working } = view.findings;
    return html`<div class="title-row"><h1>${fitsWords.title}</h1>
        <p class="quiet" role="status">${working ? words.working : fit === undefined ? '' : fitsWords.considered(fit.considered)}</p></div>
      <field-choice .sheet=${view.sheet} .at=${[['chosen']]} .unit=${view.desk.settings.values.unit}></field-choice>
      ${fit === undefined || working ? nothing : this.#renderAnswer(fit)}`;
  }

  #renderAnswer(fit: FitAnswer): TemplateResult {
    const { reports, base, sheet } = this.view;
    return html`<lack-list .lacks=${[...reports['as-found'].lacks, ...reports.bench.lacks]} .fit=${fit}></lack-list>
      <fit-readings .answer=${fit} .record=${sheet.record} .base=${base}></fit-readings>
      ${this.#renderFilters(fit)}
      ${this.#renderList(fit)}
      ${this.#renderPicked()}`;
  }

  #renderFilters(fit: FitAnswer): TemplateResult {
    const { prices } = this.view.desk.shop;
    const places: PlaceChoice[] = [
      { kind: 'anywhere' }, { kind: 'shelf' }, ...(prices?.suppliers ?? []).map(({ id }): PlaceChoice => ({ kind: 'supplier', id })),
    ];
    return html`<div class="fit-filters">${renderChoices({
        name: 'fit-verdict', legend: fitsWords.filter, value: this.filter.verdict, quietLegend: true,
        choices: VERDICT_CHOICES.map((verdict) => ({
          value: verdict,
          label: fitsWords.countOf(verdict === 'may-go-on' ? fitsWords.all : fitsWords.verdicts[verdict], this.#count(fit, { ...this.filter, verdict })),
        })),
        onChoose: (verdict) => this.#choose({ ...this.filter, verdict }),
      })}
      ${prices === undefined ? nothing : html`<div class="field fit-place"><label for="fit-place">${fitsWords.place}</label>
        <select id="fit-place" @change=${(event: Event) => this.#choose({ ...this.filter, place: places[(event.target as HTMLSelectElement).selectedIndex]! })}>
          ${places.map((place) => html`<option ?selected=${samePlace(place, this.filter.place)}>${
            fitsWords.countOf(place.kind === 'supplier' ? place.id : fitsWords.places[place.kind], this.#count(fit, { ...this.filter, place }))}</option>`)}
        </select></div>`}</div>`;
  }

  #renderList(fit: FitAnswer): TemplateResult {
    const { reports } = this.view;
    const whole = this.#isWhole;
    const list = whole ? { rows: this.#rows(fit), complete: true, working: false, failed: '' } : this.#longer?.state;
    if (list === undefined) return html`<p role="status">${words.working}</p>`;
    const { rows, complete, working, failed } = list;
    const drawn = rows.slice(0, this.shown);
    const more = (): void => {
      this.shown += PAGE;
      if (this.shown > rows.length && !complete) this.#longer?.more();
    };
    const none = this.filter.verdict !== 'may-go-on' || this.filter.place.kind !== 'anywhere' ? fitsWords.noneHere : reports.fits.state === 'empty' ? fitsWords.noneYet : fitsWords.none;
    return html`${failed === '' ? nothing : html`<p class="caution" role="alert">${failed}</p>`}
      ${whole ? nothing : html`<p class="quiet" role="status">${working ? words.working : complete ? '' : fitsWords.firstOf(rows.length)}</p>`}
      ${rows.length === 0 && !working ? html`<p>${none}</p>`
        : html`<p class="quiet pick-lead">${fitsWords.pick}</p><ul class="rows fit-rows">${drawn.map((row) => renderFitRow({
          view: this.view, fit: row, picked: this.picked.includes(row.partId), full: this.picked.length >= MOST_PICKED,
          onPick: (picked) => { this.picked = picked ? [...this.picked, row.partId].slice(0, MOST_PICKED) : this.picked.filter((id) => id !== row.partId); },
        }))}</ul>`}
      ${rows.length <= this.shown && complete ? nothing : html`<p><button type="button" ?disabled=${working} @click=${more}>${
        complete ? fitsWords.more(Math.min(PAGE, rows.length - this.shown)) : fitsWords.moreOpen}</button></p>`}`;
  }

  /** What is picked stays in view, with the way to lay it side by side. */
  #renderPicked(): TemplateResult | typeof nothing {
    const { picked } = this;
    if (picked.length === 0) return nothing;
    return html`<div class="picked" role="status"><p>${picked.length >= MOST_PICKED ? fitsWords.pickedMost : fitsWords.picked(picked.length)}</p>
      <a class="button main" href="${this.view.base}/fits/${writePicked(picked)}">${fitsWords.layBeside}</a>
      <button type="button" @click=${() => { this.picked = []; }}>${fitsWords.letGo}</button></div>`;
  }

  #choose(filter: ListFilter): void {
    this.filter = filter;
    this.shown = PAGE;
  }

  /** Every fit is here, so that lists are made and counted on the spot. */
  get #isWhole(): boolean {
    const { fit, listed } = this.view.findings;
    return fit === undefined || listed === fit.considered;
  }

  #count(fit: FitAnswer, filter: ListFilter): number | undefined {
    if (this.#isWhole) return filterFits(fit.fits, filter, this.#supplyNow).length;
    const state = this.#longer?.state;
    const isShown = filter.verdict === this.filter.verdict && samePlace(filter.place, this.filter.place);
    return isShown && state?.complete === true ? state.rows.length : undefined;
  }

  #rows(fit: FitAnswer): readonly Fit[] {
    const rows = filterFits(fit.fits, this.filter, this.#supplyNow);
    if (this.filter.verdict !== 'no') return rows;
    // Refused parts of the kind that came off are the ones somebody asks about: they come first.
    const { partClass } = this.view.sheet.record;
    const isAlike = (entry: Fit): boolean => this.view.desk.shop.parts.get(entry.partId)?.partClass === partClass;
    return rows.toSorted((a, b) => Number(isAlike(b)) - Number(isAlike(a)));
  }

  get #supplyNow(): Supply {
    const { prices } = this.view.desk.shop;
    if (this.#supply?.of !== prices || this.#supply === undefined) this.#supply = { of: prices, supply: readSupply(prices) };
    return this.#supply.supply;
  }
}
customElements.define('fits-screen', FitsScreen);

function samePlace(a: PlaceChoice, b: PlaceChoice): boolean {
  return a.kind === b.kind && (a.kind !== 'supplier' || b.kind !== 'supplier' || a.id === b.id);
}
