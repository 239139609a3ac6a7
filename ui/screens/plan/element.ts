import { html, nothing, type TemplateResult } from 'lit';
import type { AcceptedPlan, ShopPlan } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { planWords } from '../../words/plan.ts';
import { renderPlan, type PlanChoice } from './view.ts';

/** What to get for all open jobs: the least plan with its reasons, the plans beside it, and taking one. */
export class PlanScreen extends PlainElement {
  static override properties = {
    desk: { attribute: false }, plan: { state: true }, failed: { state: true }, withShelf: { state: true }, busy: { state: true }, taken: { state: true }, topUps: { state: true },
  };
  declare desk: Desk;
  declare plan: ShopPlan | undefined;
  declare failed: string;
  declare withShelf: boolean;
  declare busy: boolean;
  declare taken: AcceptedPlan | undefined;
  declare topUps: ReadonlySet<string>;

  #asked: object = {};

  constructor() {
    super();
    this.failed = '';
    this.withShelf = false;
    this.busy = false;
    this.topUps = new Set();
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
    this.plan = undefined;
    this.topUps = new Set();
    try {
      const plan = await this.desk.service.readPlan(this.withShelf);
      if (asked === this.#asked) this.plan = plan;
    } catch (error) {
      if (asked === this.#asked) this.failed = sayFault(error);
    }
  }

  protected override render(): TemplateResult {
    const { plan, desk } = this;
    return html`<main id="sheet" tabindex="-1"><h1>${planWords.title}</h1><p class="quiet">${planWords.lead}</p>
      <p><label class="plan-check"><input type="checkbox" .checked=${this.withShelf} ?disabled=${this.busy}
        @change=${(event: Event) => { this.withShelf = (event.target as HTMLInputElement).checked; void this.#read(); }}> ${planWords.withShelf}</label>
        <a href="/plan/reorder">${planWords.toReorder}</a></p>
      ${this.taken === undefined ? nothing : renderTaken(this.taken)}
      ${this.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${this.failed}</p><button type="button" @click=${() => { void this.#read(); }}>${words.tryAgain}</button></div>`}
      ${plan === undefined ? (this.failed === '' ? html`<p role="status">${planWords.working}</p>` : nothing)
        : plan.wants.length === 0 ? html`<p>${planWords.empty}</p><p><a href="/">${planWords.toJobs}</a></p>`
          : renderPlan({
            plan, busy: this.busy, topUps: this.topUps, titleOf: (partId) => desk.shop.parts.get(partId)?.title ?? partId,
            binsOf: (partId) => words.list(desk.shop.shelf.filter((row) => row.partId === partId && row.free > 0).map(({ bin }) => bin)),
            toggleTopUp: (supplierId) => { this.topUps = new Set(this.topUps.has(supplierId) ? [...this.topUps].filter((each) => each !== supplierId) : [...this.topUps, supplierId]); },
            take: (which) => { void this.#take(plan, which); },
          })}</main>`;
  }

  async #take(plan: ShopPlan, which: PlanChoice): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    this.failed = '';
    try {
      this.taken = await this.desk.service.acceptPlan({
        id: this.desk.newId(), hash: plan.hash, which, at: this.desk.now().toISOString(), ...(this.withShelf ? { shelf: true } : {}),
        ...(which === 'least' && this.topUps.size > 0 ? { topUps: [...this.topUps] } : {}),
      });
      await Promise.allSettled([this.#read(), this.desk.shop.refreshShelf()]);
      this.querySelector<HTMLElement>('[data-taken]')?.focus();
    } catch (error) {
      this.failed = sayFault(error);
    }
    this.busy = false;
  }
}
customElements.define('plan-screen', PlanScreen);

function renderTaken({ orders, putAside }: AcceptedPlan): TemplateResult {
  return html`<div role="status" data-taken tabindex="-1"><p class="mark-do">${planWords.taken(orders.length, putAside.reduce((sum, { qty }) => sum + qty, 0))}</p>
    ${orders.map((order) => html`<p><a href="/orders/${order.id}">${planWords.toOrder(order.supplierId)}</a></p>`)}</div>`;
}
