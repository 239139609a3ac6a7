import { html, nothing, type TemplateResult } from 'lit';
import type { ShopPlan } from '../../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../../client/index.ts';
import { followChanges, PlainElement } from '../plain-element.ts';
import { formatArrival } from '../../format.ts';
import { planWords } from '../../words/plan.ts';
import { renderChoice } from '../order-choice.ts';

const say = planWords;

/** What a job asks for, and what the plan for all jobs has for it, with its reasons. */
export class JobPlan extends PlainElement {
  static override properties = { desk: { attribute: false }, sheet: { attribute: false }, wanted: { attribute: false }, plan: { state: true }, failed: { state: true } };
  declare desk: Desk;
  declare sheet: WorkSheet;
  /** what the plan hangs on here: when it changes, the plan is read again */
  declare wanted: string;
  declare plan: ShopPlan | undefined;
  declare failed: boolean;

  #asked: object = {};

  constructor() {
    super();
    this.failed = false;
    followChanges(this, () => [this.desk?.shop]);
  }

  protected override willUpdate(changed: Map<string, unknown>): void {
    if (changed.has('wanted')) void this.#read();
  }

  async #read(): Promise<void> {
    const asked = this.#asked = {};
    try {
      const plan = await this.desk.service.readPlan(false);
      if (asked !== this.#asked) return;
      this.plan = plan;
      this.failed = false;
    } catch {
      if (asked === this.#asked) this.failed = true;
    }
  }

  protected override render(): TemplateResult {
    const { get = {} } = this.sheet.document;
    const write = (field: 'by' | 'anyFit', value: string | boolean | null): void => { this.sheet.change([{ field: ['get', field], value }]); };
    return html`<section><h2>${say.getTitle}</h2>
      <div class="field"><label for="get-by">${say.by}</label><input id="get-by" type="date" aria-describedby="get-by-hint" .value=${get.by ?? ''}
        @change=${(event: Event) => write('by', (event.target as HTMLInputElement).value || null)}><p class="hint" id="get-by-hint">${say.byHint}</p></div>
      <p><label class="plan-check"><input type="checkbox" .checked=${get.anyFit === true} @change=${(event: Event) => write('anyFit', (event.target as HTMLInputElement).checked ? true : null)}> ${say.anyFit}</label></p>
      <h2>${say.inPlan}</h2>${this.failed ? html`<p class="caution">${say.planFailed}</p>` : this.#renderShare()}
      <p><a href="/plan">${say.toPlan}</a></p></section>`;
  }

  #renderShare(): TemplateResult | typeof nothing {
    const { plan, desk } = this;
    if (plan === undefined) return html`<p role="status">${say.working}</p>`;
    const { jobId } = this.sheet;
    const fills = plan.answer.fills.filter(({ needId }) => needId === jobId);
    const unmet = plan.answer.unmet.find(({ needId }) => needId === jobId);
    const choice = plan.answer.choices?.find(({ needId }) => needId === jobId);
    if (fills.length === 0 && unmet === undefined) return html`<p class="quiet">${say.notInPlan}</p>`;
    const titleOf = (partId: string): string => desk.shop.parts.get(partId)?.title ?? partId;
    return html`<ul class="plan-why">${fills.map((fill) => html`<li><strong>${say.fill(fill.qty, titleOf(fill.partId))}</strong>, ${fill.from === 'shelf' ? say.theShelf : fill.from}, ${say.arrives(formatArrival(fill.arrives, plan.today))}${fill.daysLate > 0 ? html`, <span class="mark-do">${say.late(fill.daysLate)}</span>` : nothing}</li>`)}</ul>
      ${unmet === undefined ? nothing : html`<p class="caution">${unmet.why}</p>`}
      ${choice === undefined ? nothing : renderChoice({ plan, titleOf }, choice)}`;
  }
}
customElements.define('job-plan', JobPlan);
