import { html, nothing, type TemplateResult } from 'lit';
import type { PaperName } from '../../../catalog-schema/gauge-sheet/index.ts';
import type { Fit, FitAnswer, JsonValue, Part, Plan, RewireAnswer } from '../../../catalog-schema/index.ts';
import { sayFault } from '../../say-fault.ts';
import { sayReason } from '../../screens/fits/fit-words.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { words } from '../../words.ts';
import { fitsWords } from '../../words/fits.ts';
import { isChoiceStale, writeWiring } from '../../worker/as-left.ts';
import type { FitQuestion } from '../../worker/index.ts';
import '../evidence-line/element.ts';
import '../fit-readings/element.ts';
import '../check-list/element.ts';
import '../circuit-picture/index.ts';
import { PlainElement } from '../plain-element.ts';
import { renderCostTable } from './cost-table.ts';
import { renderFitFacts } from './fit-facts.ts';
import { renderMountingPicture, renderPatternChoice, renderPatternSheet } from './mounting-picture.ts';
import { renderWiringSection } from './wiring-section.ts';

/** One fit opened: verdict, what it takes, every check, the drawings, the wiring; and choosing it. */
export class OpenedFit extends PlainElement {
  static override properties = {
    view: { attribute: false }, partId: {}, rewire: { state: true }, failed: { state: true }, paper: { state: true }, own: { state: true }, way: { state: true },
  };
  declare view: WorkView;
  declare partId: string;
  declare rewire: RewireAnswer | undefined;
  declare failed: string;
  /** which of the right ways was picked to be looked at; undefined until one is */
  declare way: number | undefined;
  /** the paper the bracket is printed on */
  declare paper: PaperName;
  /** what the engine says of this part alone: its own cautions, and what would settle it */
  declare own: FitAnswer | undefined;
  #asked: { readonly partId: string; readonly question: FitQuestion } | undefined;

  constructor() {
    super();
    this.failed = '';
    this.paper = 'a4';
  }

  protected override updated(): void {
    const { findings: { fit, question, working } } = this.view;
    const part = this.#part;
    if (part === undefined || fit === undefined || working || (this.#asked?.partId === part.id && this.#asked.question === question)) return;
    if (this.#asked?.partId !== part.id) this.own = undefined;
    this.rewire = undefined;
    this.way = undefined;
    void this.#ask(part, { partId: part.id, question });
  }

  async #ask(part: Part, asked: { partId: string; question: FitQuestion }): Promise<void> {
    this.#asked = asked;
    const { desk: { engine }, sheet: { record } } = this.view;
    try {
      const [rewire, own] = await Promise.all([engine.rewire(record, part), engine.fit(record, { ...asked.question, all: true, only: { partIds: [part.id] } })]);
      if (asked !== this.#asked) return;
      this.rewire = rewire;
      this.own = own;
      this.failed = '';
    } catch (error) {
      if (asked === this.#asked) this.failed = sayFault(error);
    }
  }

  get #part(): Part | undefined { return this.view.desk.shop.parts.get(this.partId); }

  protected override render(): TemplateResult {
    const { findings, base } = this.view;
    const part = this.#part;
    const fit = [...(findings.fit?.fits ?? []), ...(this.own?.fits ?? [])].find((entry) => entry.partId === this.partId);
    if (findings.fit === undefined || (part !== undefined && fit === undefined && this.failed === '')) return html`<p role="status">${words.working}</p>`;
    const back = html`<p><a class="button" href="${base}/fits">${fitsWords.backToList}</a></p>`;
    if (part === undefined && this.view.desk.shop.parts.isOnItsWay(this.partId)) return html`<p role="status">${words.working}</p>`;
    if (part === undefined || fit === undefined) return html`${back}<p>${this.failed === '' ? fitsWords.notInCatalogue(this.partId) : this.failed}</p>`;
    const mounted = { record: this.view.sheet.record, part, fit, unit: this.view.desk.settings.values.unit };
    return html`<div class="screen-only">${back}
      <div class="opened">
        <div class="opened-facts">
          <p class="verdict-large verdict-${fit.verdict}">${fitsWords.verdicts[fit.verdict]}</p>
          <h1>${part.title}</h1>
          <p class="number">${fit.partId}</p>
          ${fit.verdict === 'no' ? html`<p class="caution">${sayReason(fit)}</p>` : nothing}
          ${renderFitFacts(this.view, fit, part)}
          ${fit.verdict === 'no' ? nothing : html`<evidence-line .view=${this.view} .partId=${fit.partId}></evidence-line>`}
          ${this.#renderChoose(fit, part)}
          ${this.own === undefined || fit.verdict === 'no' ? nothing : html`<fit-readings .answer=${this.own} .record=${this.view.sheet.record} .base=${base}></fit-readings>`}
          ${fit.verdict === 'no' ? nothing : renderCostTable(fit, this.view.desk.shop.prices)}
        </div>
        ${renderMountingPicture(mounted)}
      </div>
      <section><h2>${fitsWords.wiring}</h2>${this.#renderCautions()}${this.#renderWiring(fit, part)}</section>
      ${part.circuit.length === 0 ? nothing : html`<section><h2>${fitsWords.inside}</h2><circuit-picture .terminals=${part.terminals} .circuit=${part.circuit}></circuit-picture></section>`}
      ${renderPatternChoice(mounted, this.paper, (paper) => { this.paper = paper; })}
      <section><h2>${fitsWords.checks}</h2><check-list .checks=${fit.checks}></check-list></section>
      ${this.#renderAssumptions()}</div>
      ${renderPatternSheet(mounted, this.paper)}`;
  }

  #renderChoose(fit: Fit, part: Part): TemplateResult {
    const { sheet, base, findings: { working } } = this.view;
    const { chosen } = sheet.document;
    if (fit.verdict === 'no') return html`<p class="caution">${fitsWords.chooseRefused}</p>`;
    if (chosen?.partId === fit.partId) {
      const current = !isChoiceStale(chosen, sheet.record, this.view.basis);
      const another = current && writeWiring(this.#planShown(fit)) !== writeWiring(chosen.plan);
      return html`<p class="button-row"><span class="mark-do">${fitsWords.chosenNow}</span>
        ${current ? nothing : html`<button type="button" class="main" ?disabled=${working} @click=${() => this.#choose(fit, part)}>${fitsWords.chooseAgain}</button>`}
        ${another ? html`<button type="button" class="main" ?disabled=${working} @click=${() => this.#choose(fit, part)}>${fitsWords.chooseWay}</button>` : nothing}
        <a class="button" href="${base}/get">${fitsWords.toGet}</a>
        ${sheet.jobId === undefined ? nothing : html`<a class="button" href="${base}/as-left">${fitsWords.toAsLeft}</a>`}</p>`;
    }
    return html`${fit.verdict === 'unproven' ? html`<p class="caution">${fitsWords.chooseUnproven}</p>` : nothing}
      <p class="button-row"><button type="button" class="main" ?disabled=${working} @click=${() => this.#choose(fit, part)}>${fitsWords.choose}</button>
        ${working ? html`<span class="quiet" role="status">${words.working}</span>` : nothing}</p>`;
  }

  /** Chooses the part with the wiring that is shown. Ticks and a sign-off given for another do not count for it: they say for what they were made. */
  #choose(fit: Fit, part: Part): void {
    const { sheet } = this.view;
    const chosen: JsonValue = { partId: fit.partId, plan: structuredClone(this.#planShown(fit)) as JsonValue, title: part.title };
    const result = sheet.change([{ field: ['chosen'], value: chosen }]);
    this.failed = result.ok ? '' : result.why;
  }

  #renderWiring(fit: Fit, part: Part): TemplateResult {
    const { sheet: { record }, desk } = this.view;
    return html`${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      ${renderWiringSection({
        record, part, unit: desk.settings.values.unit, plans: this.#listWays(fit), refusals: this.rewire?.refusals ?? [], way: this.#findWay(fit), onWay: (way) => { this.way = way; },
      })}`;
  }

  /** Every right way to wire this part; the fit's own until the others have come. */
  #listWays(fit: Fit): readonly Plan[] {
    if (fit.rewire === null) return [];
    return this.rewire === undefined || this.rewire.plans.length === 0 ? [fit.rewire] : this.rewire.plans;
  }

  /** The way that is shown: the one picked, else the one chosen for the job, else the fit's own. */
  #findWay(fit: Fit): number {
    const ways = this.#listWays(fit);
    if (this.way !== undefined && this.way < ways.length) return this.way;
    const { chosen } = this.view.sheet.document;
    const find = (plan: Plan | null): number => ways.findIndex((way) => writeWiring(way) === writeWiring(plan));
    return Math.max(0, chosen?.partId === fit.partId && find(chosen.plan) >= 0 ? find(chosen.plan) : find(fit.rewire));
  }

  #planShown(fit: Fit): Plan | null {
    return this.#listWays(fit)[this.#findWay(fit)] ?? null;
  }

  /** What there is to beware of stands where the wires are handled. */
  #renderCautions(): TemplateResult | typeof nothing {
    const cautions = [...new Set([...(this.own ?? this.view.findings.fit!).cautions, ...(this.rewire?.cautions ?? [])])];
    return cautions.length === 0 ? nothing : html`<div class="caution"><h3>${fitsWords.cautions}</h3>
      <ul>${cautions.map((line) => html`<li>${line}</li>`)}</ul></div>`;
  }

  #renderAssumptions(): TemplateResult | typeof nothing {
    const assumptions = [...new Set([...(this.own ?? this.view.findings.fit!).assumptions, ...(this.rewire?.assumptions ?? [])])];
    return assumptions.length === 0 ? nothing : html`<details class="assumptions"><summary>${fitsWords.assumptions} (${assumptions.length})</summary>
      <ul>${assumptions.map((line) => html`<li>${line}</li>`)}</ul></details>`;
  }
}

customElements.define('opened-fit', OpenedFit);
