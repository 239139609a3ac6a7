import { html, nothing, type TemplateResult } from 'lit';
import type { ReorderAnswer, ReorderRow } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import { formatMoney, formatNumber } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { planWords, reorderWords } from '../../words/plan.ts';

const say = reorderWords;

/** What the shelf should have again, by a share served at once or by what being without costs. */
export class ReorderScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, answer: { state: true }, failed: { state: true }, by: { state: true }, level: { state: true }, wrong: { state: true } };
  declare desk: Desk;
  declare answer: ReorderAnswer | undefined;
  declare failed: string;
  declare by: 'service' | 'cost';
  /** per cent */
  declare level: number;
  declare wrong: boolean;

  #asked: object = {};

  constructor() {
    super();
    this.failed = '';
    this.by = 'service';
    this.level = 95;
    this.wrong = false;
    followChanges(this, () => [this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.desk.shop.open().catch(() => {});
    void this.#read();
  }

  async #read(): Promise<void> {
    const asked = this.#asked = {};
    this.failed = '';
    try {
      const answer = await this.desk.service.readReorder(this.by === 'cost' ? { by: 'cost' } : { by: 'service', level: this.level / 100 });
      if (asked === this.#asked) this.answer = answer;
    } catch (error) {
      if (asked === this.#asked) this.failed = sayFault(error);
    }
  }

  protected override render(): TemplateResult {
    const { answer } = this;
    return html`<main id="sheet" tabindex="-1"><h1>${say.title}</h1><p class="quiet">${say.lead}</p>
      <p><a href="/plan">${planWords.title}</a></p>
      <fieldset class="plan-by"><legend>${say.by}</legend>
        ${(['service', 'cost'] as const).map((by) => html`<label class="plan-check"><input type="radio" name="by" .checked=${this.by === by} @change=${() => { this.by = by; void this.#read(); }}> ${by === 'service' ? say.byService : say.byCost}</label>`)}
        ${this.by === 'cost' ? nothing : html`<div class="field"><label for="reorder-level">${say.level}</label>
          <input id="reorder-level" type="number" inputmode="decimal" min="50" max="99.9" step="0.1" .value=${String(this.level)} aria-invalid=${this.wrong ? 'true' : 'false'} @change=${(event: Event) => this.#setLevel(event.target as HTMLInputElement)}>
          ${this.wrong ? html`<p class="field-fault" role="alert">${say.levelWrong}</p>` : nothing}</div>`}</fieldset>
      ${this.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${this.failed}</p><button type="button" @click=${() => { void this.#read(); }}>${words.tryAgain}</button></div>`}
      ${answer === undefined ? (this.failed === '' ? html`<p role="status">${words.loading}</p>` : nothing) : this.#renderList(answer)}</main>`;
  }

  #setLevel(field: HTMLInputElement): void {
    const level = field.valueAsNumber;
    this.wrong = !(level >= 50 && level <= 99.9);
    if (this.wrong) return;
    this.level = level;
    void this.#read();
  }

  #renderList({ rows, assumptions }: ReorderAnswer): TemplateResult {
    if (rows.length === 0) return html`<p>${say.none}</p>`;
    const due = rows.filter(({ order }) => order > 0);
    const enough = rows.filter(({ order }) => order === 0);
    return html`<h2>${say.toOrder}</h2>
      ${due.length === 0 ? html`<p>${say.nothingToOrder}</p>` : html`<ul class="rows">${due.map((row) => this.#renderRow(row))}</ul><p><a class="button main" href="/plan">${say.toPlan}</a></p>`}
      ${enough.length === 0 ? nothing : html`<details><summary>${say.enough(enough.length)}</summary><ul class="rows">${enough.map((row) => this.#renderRow(row))}</ul></details>`}
      <details><summary>${say.assumptions}</summary><ul>${assumptions.map((line) => html`<li>${line}</li>`)}</ul></details>`;
  }

  #renderRow(row: ReorderRow): TemplateResult {
    const titleOf = (partId: string): string => this.desk.shop.parts.get(partId)?.title ?? partId;
    const percent = (share: number): string => `${formatNumber(100 * share, 1)} %`;
    const figure = (name: string, value: string): TemplateResult => html`<div><dt>${name}</dt><dd>${value}</dd></div>`;
    const { currency } = this.desk.shop.prices ?? {};
    return html`<li class="plan-other"><span class="row-main">${titleOf(row.partId)} <span class="number">${row.partId}</span></span>
      <dl>${row.order > 0 ? figure(say.columns.order, String(row.order)) : nothing}${figure(say.columns.there, String(row.position))}${figure(say.columns.again, String(Math.max(0, row.reorderAt)))}${figure(say.columns.upTo, String(Math.max(0, row.orderUpTo)))}
        ${figure(say.columns.year, formatNumber(row.perYear, 1))}${figure(say.columns.service, percent(row.service))}</dl>
      <details><summary>${say.details}</summary><ul>
        <li>${say.model[row.model]}; ${say.dispersion(formatNumber(row.dispersion, 2))}, ${say.decidedBy[row.decidedBy]}${row.test === null ? nothing : html`; ${say.test(formatNumber(row.test.p, 3))}`}</li>
        <li>${say.leadTime(formatNumber(row.lead.meanDays, 1), formatNumber(row.lead.sdDays, 1), row.lead.receipts)}</li>
        <li>${say.oneLess(percent(row.serviceOneLess))}</li>
        ${row.pooled.length === 0 ? nothing : html`<li>${say.pooled(words.list(row.pooled.map(({ partId, perYear }) => `${titleOf(partId)} (${say.rate(formatNumber(perYear, 1))})`)))}</li>`}
        ${row.costPerYear === null || currency === undefined ? nothing : html`<li>${say.cost(formatMoney(row.costPerYear, currency))}</li>`}
      </ul></details></li>`;
  }
}
customElements.define('reorder-screen', ReorderScreen);
