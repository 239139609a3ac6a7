import { html, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { BenchRecord, Fit, JsonValue, Part, Plan, RewireAnswer } from '../../../catalog-schema/index.ts';
import { formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { needsNewEnd } from '../../screens/as-left/new-end.ts';
import { isChoiceStale } from '../../screens/step-states.ts';
import { sayWhatItTakes, sayWhere } from '../../screens/fits/fit-words.ts';
import type { WorkView } from '../../screens/work-view.ts';
import { words } from '../../words.ts';
import '../check-list/element.ts';
import '../circuit-picture/index.ts';
import { PlainElement } from '../plain-element.ts';
import '../wiring-picture/index.ts';
import '../wiring-table/element.ts';
import { renderMountingPicture, renderTrueSizeSheet } from './mounting-picture.ts';
import { renderSwitchStates } from './switch-states.ts';

/** One fit opened: verdict, what it takes, every check, the drawings, the wiring; and choosing it. */
export class OpenedFit extends PlainElement {
  static override properties = {
    view: { attribute: false }, partId: {}, rewire: { state: true }, failed: { state: true },
  };
  declare view: WorkView;
  declare partId: string;
  declare rewire: RewireAnswer | undefined;
  declare failed: string;
  #asked = '';

  constructor() {
    super();
    this.failed = '';
  }

  protected override updated(_changed: PropertyValues): void {
    const part = this.#part;
    const key = `${this.partId} ${JSON.stringify(this.view.sheet.record)}`;
    if (part === undefined || key === this.#asked) return;
    this.#asked = key;
    this.rewire = undefined;
    void this.#ask(part, key);
  }

  async #ask(part: Part, key: string): Promise<void> {
    try {
      const answer = await this.view.desk.engine.rewire(this.view.sheet.record, part);
      if (key === this.#asked) this.rewire = answer;
    } catch (error) {
      this.failed = sayFault(error);
    }
  }

  get #part(): Part | undefined { return this.view.desk.shop.parts.get(this.partId); }

  protected override render(): TemplateResult {
    const { findings, base } = this.view;
    const part = this.#part;
    const fit = findings.fit?.fits.find((entry) => entry.partId === this.partId);
    if (findings.fit === undefined) return html`<p role="status">${words.working}</p>`;
    const back = html`<p><a class="button" href="${base}/fits">${words.fits.backToList}</a></p>`;
    if (part === undefined || fit === undefined) return html`${back}<p>${words.fits.notInCatalogue(this.partId)}</p>`;
    const { unit } = this.view.desk.settings.values;
    return html`<div class="screen-only">${back}
      <div class="opened">
        <div class="opened-facts">
          <p class="verdict-large verdict-${fit.verdict}">${words.fits.verdicts[fit.verdict]}</p>
          <h1>${part.title}</h1>
          <p class="number">${fit.partId}</p>
          ${this.#renderFacts(fit, part)}
          ${this.#renderChoose(fit, part)}
        </div>
        ${renderMountingPicture({ record: this.view.sheet.record, part, fit, unit })}
      </div>
      <section><h2>${words.fits.wiring}</h2>${this.#renderWiring(fit, part)}</section>
      ${part.circuit.length === 0 ? nothing : html`<section><h2>${words.fits.inside}</h2><circuit-picture .terminals=${part.terminals} .circuit=${part.circuit}></circuit-picture></section>`}
      <section><h2>${words.fits.checks}</h2><check-list .checks=${fit.checks}></check-list></section>
      ${this.#renderSaid()}</div>
      ${renderTrueSizeSheet({ record: this.view.sheet.record, part, fit, unit })}`;
  }

  #renderFacts(fit: Fit, part: Part): TemplateResult {
    const { shop } = this.view.desk;
    const cost = fit.expectedCost;
    return html`<dl class="facts">
      ${fit.verdict === 'no' ? nothing : html`<div><dt>${words.fits.takes}</dt><dd>${sayWhatItTakes(fit)}</dd></div>`}
      ${fit.kit.length === 0 ? nothing : html`<div><dt>${words.fits.kit}</dt><dd>${fit.kit.map((entry) => html`${words.fits.kitItem(entry.qty, entry.item, entry.detail)}<br>`)}</dd></div>`}
      ${fit.verdict === 'no' ? nothing : html`<div><dt>${words.get.where}</dt><dd>${sayWhere(fit.partId, shop.shelf, shop.prices)}</dd></div>`}
      ${cost === null ? nothing : html`<div><dt>${words.fits.cost}</dt><dd>${formatMoney(cost.total, cost.currency)}
        (${(['part', 'kit', 'labour', 'misfit', 'wait'] as const).map((key) => `${words.fits.costParts[key]} ${formatMoney(cost[key], cost.currency)}`).join(', ')})</dd></div>`}
      ${part.numbers === undefined ? nothing : html`<div><dt>${words.fits.numbers}</dt><dd>${part.numbers.map((entry) => `${entry.issuer} ${entry.number}`).join(', ')}</dd></div>`}
      ${(part.replaces ?? []).length === 0 ? nothing : html`<div><dt></dt><dd class="quiet">${words.fits.replaces(
        words.list(part.replaces!.map((claim) => `${claim.issuer} ${claim.number}`)))}</dd></div>`}
      ${part.supersededBy === undefined ? nothing : html`<div><dt></dt><dd class="mark-do">${words.fits.supersededBy(
        words.list(part.supersededBy.map((id) => shop.parts.get(id)?.title ?? id)))}</dd></div>`}
    </dl>`;
  }

  #renderChoose(fit: Fit, part: Part): TemplateResult {
    const { sheet, base, findings: { working } } = this.view;
    const { chosen } = sheet.document;
    if (fit.verdict === 'no') return html`<p class="caution">${words.fits.chooseRefused}</p>`;
    if (chosen?.partId === fit.partId) {
      const current = !isChoiceStale(chosen, sheet.record, fit);
      return html`<p class="button-row"><span class="mark-do">${words.fits.chosenNow}</span>
        ${current ? nothing : html`<button type="button" class="main" ?disabled=${working} @click=${() => this.#choose(fit, part)}>${words.fits.chooseAgain}</button>`}
        <a class="button" href="${base}/get">${words.fits.toGet}</a>
        ${sheet.jobId === undefined ? nothing : html`<a class="button" href="${base}/as-left">${words.fits.toAsLeft}</a>`}</p>`;
    }
    return html`${fit.verdict === 'unproven' ? html`<p class="caution">${words.fits.chooseUnproven}</p>` : nothing}
      <p class="button-row"><button type="button" class="main" ?disabled=${working} @click=${() => this.#choose(fit, part)}>${words.fits.choose}</button>
        ${working ? html`<span class="quiet" role="status">${words.working}</span>` : nothing}</p>`;
  }

  /** Chooses the part with its plan. Ticks of a checklist made for another plan would lie, so they go with it. */
  #choose(fit: Fit, part: Part): void {
    const { sheet } = this.view;
    const chosen: JsonValue = { partId: fit.partId, plan: structuredClone(fit.rewire) as JsonValue, title: part.title };
    const result = sheet.change([
      { field: ['chosen'], value: chosen },
      ...(sheet.document.asLeft === undefined ? [] : [{ field: ['asLeft'], value: null }]),
      ...(sheet.document.signedOff === undefined ? [] : [{ field: ['signedOff'], value: null }]),
    ]);
    this.failed = result.ok ? '' : result.why;
  }

  #renderWiring(fit: Fit, part: Part): TemplateResult {
    const { sheet, desk } = this.view;
    const refusals = this.rewire?.refusals ?? [];
    return html`${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      ${fit.rewire === null ? html`<p>${words.fits.noPlan}</p>` : nothing}
      ${refusals.length === 0 ? nothing : html`<div class="caution">
        ${fit.rewire === null ? nothing : html`<p><b>${words.fits.obvious}</b></p>`}
        <ul>${refusals.map((refusal) => html`<li>${refusal.why}</li>`)}</ul></div>`}
      ${fit.rewire === null ? nothing : html`<div class="wired">
        <wiring-picture .oldTerminals=${sheet.record.terminals ?? []} .newTerminals=${part.terminals} .wires=${sheet.record.wires ?? []} .plan=${withNewEnds(fit.rewire, sheet.record, part)} .units=${desk.settings.values.unit}></wiring-picture>
        <div><wiring-table .record=${sheet.record} .plan=${fit.rewire} .newPart=${part} .unit=${desk.settings.values.unit}></wiring-table>
          ${renderSwitchStates(fit.rewire)}</div></div>`}`;
  }

  #renderSaid(): TemplateResult {
    const fit = this.view.findings.fit!;
    const cautions = [...new Set([...fit.cautions, ...(this.rewire?.cautions ?? [])])];
    const assumptions = [...new Set([...fit.assumptions, ...(this.rewire?.assumptions ?? [])])];
    return html`${cautions.length === 0 ? nothing : html`<div class="caution"><h2>${words.fits.cautions}</h2>
        <ul>${cautions.map((line) => html`<li>${line}</li>`)}</ul></div>`}
      ${assumptions.length === 0 ? nothing : html`<details class="assumptions"><summary>${words.fits.assumptions} (${assumptions.length})</summary>
        <ul>${assumptions.map((line) => html`<li>${line}</li>`)}</ul></details>`}`;
  }
}

/** The plan with every end that has to be made anew marked so, for the drawing. */
function withNewEnds(plan: Plan, record: BenchRecord, part: Part): Plan {
  return {
    ...plan,
    wires: plan.wires.map((placed) => {
      const wire = record.wires?.find((entry) => entry.tag === placed.tag);
      return wire === undefined ? placed : { ...placed, newEnd: needsNewEnd(wire, placed, part) };
    }),
  };
}
customElements.define('opened-fit', OpenedFit);
