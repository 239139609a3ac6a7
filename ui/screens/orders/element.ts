import { html, nothing, type TemplateResult } from 'lit';
import type { OrderSummary } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import { formatArrival, formatMoment, formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { orderWords } from '../../words/orders.ts';

/** Done orders that are shown at once. */
const DONE_SHOWN = 10;

/** Orders by what is to be done about them: late ones first, then those to write, those under way, those done. */
export class OrdersScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, orders: { state: true }, failed: { state: true } };
  declare desk: Desk;
  declare orders: readonly OrderSummary[] | undefined;
  declare failed: string;

  constructor() {
    super();
    this.failed = '';
    followChanges(this, () => [this.desk?.device]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#read();
  }

  async #read(): Promise<void> {
    this.failed = '';
    try {
      this.orders = await this.desk.service.listOrders();
    } catch (error) {
      this.failed = sayFault(error);
    }
  }

  protected override render(): TemplateResult {
    const asOf = this.desk.device.ageOf('orders');
    return html`<main id="sheet" tabindex="-1"><h1>${orderWords.title}</h1><p class="quiet">${orderWords.lead}</p>
      <p><a href="/suppliers">${orderWords.toSuppliers}</a></p>
      ${asOf === undefined ? nothing : html`<p class="mark-do">${orderWords.asOf(formatMoment(asOf))}</p>`}
      ${this.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${this.failed}</p><button type="button" @click=${() => { void this.#read(); }}>${words.tryAgain}</button></div>`}
      ${this.orders === undefined ? (this.failed === '' ? html`<p role="status">${words.loading}</p>` : nothing) : this.#renderGroups(this.orders)}</main>`;
  }

  #renderGroups(orders: readonly OrderSummary[]): TemplateResult {
    if (orders.length === 0) return html`<p>${orderWords.none}</p>`;
    const of = (test: (order: OrderSummary) => boolean): OrderSummary[] => orders.filter(test);
    const isUnder = ({ state }: OrderSummary): boolean => state === 'sent' || state === 'part-received';
    const late = of((order) => isUnder(order) && order.daysLate > 0);
    const done = of(({ state }) => state === 'received' || state === 'closed' || state === 'cancelled');
    return html`${this.#renderGroup(orderWords.groups.late, late)}
      ${this.#renderGroup(orderWords.groups.write, of(({ state }) => state === 'draft' || state === 'approved'))}
      ${this.#renderGroup(orderWords.groups.under, of((order) => isUnder(order) && order.daysLate === 0).toSorted((a, b) => ((a.arrives ?? '') < (b.arrives ?? '') ? -1 : 1)))}
      ${this.#renderGroup(orderWords.groups.done, done.slice(0, DONE_SHOWN))}
      ${done.length <= DONE_SHOWN ? nothing : html`<details><summary>${orderWords.older(done.length - DONE_SHOWN)}</summary><ul class="rows">${done.slice(DONE_SHOWN).map((order) => this.#renderRow(order))}</ul></details>`}`;
  }

  #renderGroup(title: string, orders: readonly OrderSummary[]): TemplateResult | typeof nothing {
    return orders.length === 0 ? nothing : html`<section><h2>${title}</h2><ul class="rows">${orders.map((order) => this.#renderRow(order))}</ul></section>`;
  }

  #renderRow(order: OrderSummary): TemplateResult {
    const { state, arrives, daysLate, currency } = order;
    const waits = state === 'sent' || state === 'part-received';
    const today = this.desk.now().toISOString().slice(0, 10);
    const pending = this.desk.device.waiting.some(({ errand }) => errand?.kind === 'order-acts' && errand.body.orderId === order.id);
    return html`<li><a class="row" href="/orders/${order.id}"><span class="row-main">${orderWords.name(order.number, order.supplierName)}</span>
      <span class="row-what">${words.orders.states[state]}, ${orderWords.what(order.lines, order.jobs)}${pending ? html`, <span class="mark-do">${words.offline.waits}</span>` : nothing}</span>
      <span class="row-state">${!waits || arrives === null ? (order.creditsOpen > 0 ? orderWords.creditsOpen(order.creditsOpen) : nothing)
        : daysLate > 0 ? html`<span class="mark-do">${orderWords.daysLate(daysLate)}</span>` : orderWords.comes(formatArrival(arrives, today))}</span>
      <small>${formatMoney(order.total, currency)}</small></a></li>`;
  }
}
customElements.define('orders-screen', OrdersScreen);
