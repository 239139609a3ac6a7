import { html, nothing, type TemplateResult } from 'lit';
import type { PurchaseOrder } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/waiting-line/element.ts';
import { formatMoment } from '../../format.ts';
import { words } from '../../words.ts';
import { orderWords } from '../../words/orders.ts';
import { renderLines } from './lines-section.ts';
import './order.css';
import { OrderWatch } from './order-watch.ts';
import { renderReceive } from './receive-section.ts';
import { renderReturns } from './return-section.ts';
import { sayArrival } from './say-arrival.ts';
import { renderSums } from './sums-section.ts';

type Ending = 'closed' | 'cancelled';

/** One order: what is to be done with it now stands first, then its lines with the jobs and their evidence, then what it comes to. */
export class OrderScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, orderId: {}, asking: { state: true } };
  declare desk: Desk;
  declare orderId: string;
  /** an ending that a person is asked about once more */
  declare asking: Ending | undefined;
  #watch: OrderWatch | undefined;
  #waited = 0;

  constructor() {
    super();
    this.asking = undefined;
    followChanges(this, () => [this.#watch, this.desk?.device, this.desk?.shop]);
  }

  protected override willUpdate(): void {
    if (this.#watch?.id === this.orderId) {
      // What waited has been sent: the server knows more now.
      const waits = this.#watch.waiting.length;
      if (waits < this.#waited) void this.#watch.read();
      this.#waited = waits;
      return;
    }
    this.#watch = new OrderWatch(this.desk, this.orderId);
    this.asking = undefined;
    void this.#watch.read();
    void this.desk.shop.open().catch(() => {});
  }

  protected override render(): TemplateResult {
    const watch = this.#watch!;
    const { order } = watch;
    const asOf = this.desk.device.ageOf(`order ${this.orderId}`);
    return html`<main id="sheet" tabindex="-1"><p class="screen-only"><a href="/orders">${orderWords.back}</a></p>
      ${order === undefined ? (watch.failed === '' ? html`<h1>${orderWords.title}</h1><p role="status">${words.loading}</p>` : html`<h1>${orderWords.title}</h1>`) : html`<h1>${orderWords.name(order.number, order.supplierName)}</h1>`}
      ${watch.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${watch.failed}</p><button type="button" @click=${() => { void watch.read(); }}>${words.tryAgain}</button></div>`}
      ${asOf === undefined ? nothing : html`<p class="mark-do">${orderWords.asOf(formatMoment(asOf))}</p>`}
      ${order === undefined ? nothing : html`${this.#renderState(order)}
        ${watch.waiting.map((item) => html`<waiting-line .desk=${this.desk} .item=${item}></waiting-line>`)}
        <p role="status" class="mark-do">${watch.said}</p>
        ${this.#renderNext(watch, order)}
        ${renderLines(watch, this.desk)}
        ${renderSums(order)}
        ${renderReturns(watch, this.desk)}
        ${this.#renderFiles(order)}
        ${this.#renderEnd(watch, order)}`}</main>`;
  }

  /** How far it is, when the rest comes, and who did what. */
  #renderState(order: PurchaseOrder): TemplateResult {
    const say = orderWords;
    const today = this.desk.now().toISOString().slice(0, 10);
    const waits = order.state === 'sent' || order.state === 'part-received';
    const ended = order.state === 'cancelled' ? say.did.cancelled : say.did.closed;
    const did = [[say.did.drafted, order.drafted], [say.did.approved, order.approved], [say.did.sent, order.sent], [ended, order.ended]] as const;
    return html`<p class="order-state">${words.orders.states[order.state]}${!waits || order.arrives === null ? nothing : html`, ${sayArrival(order.arrives, today)}`}${
      waits && order.daysLate > 0 ? html`, <span class="mark-do">${say.daysLate(order.daysLate)}</span>` : nothing}</p>
      <p class="quiet">${did.flatMap(([what, done]) => (done === null ? [] : [html`${say.by(what, formatMoment(done.at), done.by ?? '')}${done.words === null ? nothing : html`: ${done.words}`}<br>`]))}</p>`;
  }

  /** The act that comes next, large. */
  #renderNext(watch: OrderWatch, order: PurchaseOrder): TemplateResult | typeof nothing {
    const say = orderWords;
    switch (order.state) {
      case 'draft': {
        const unproven = order.lines.filter(({ serves }) => serves.some(({ evidence }) => evidence !== null && !evidence.orderable)).length;
        return html`${unproven === 0 ? nothing : html`<div class="caution"><p>${say.unproven(unproven)}</p></div>`}
          <p><button type="button" class="main" ?disabled=${watch.busy || order.lines.length === 0} @click=${() => { void watch.act('', { kind: 'approved' }); }}>${say.approve}</button></p><p class="quiet">${say.approveHint}</p>`;
      }
      case 'approved': return html`<form class="stack narrow" @submit=${(event: SubmitEvent) => {
        event.preventDefault();
        const how = String(new FormData(event.target as HTMLFormElement).get('how') ?? '').trim();
        void watch.act('', { kind: 'sent', ...(how === '' ? {} : { how }) });
      }}><div class="field"><label for="sent-how">${say.how}</label><input id="sent-how" name="how" maxlength="2000" autocomplete="off" aria-describedby="sent-hint"><small id="sent-hint">${say.howHint}</small></div>
        <p><button class="main" ?disabled=${watch.busy}>${say.send}</button></p></form>`;
      case 'sent': case 'part-received': case 'received': case 'closed': return renderReceive(watch, this.desk);
      case 'cancelled': return nothing;
    }
  }

  #renderFiles(order: PurchaseOrder): TemplateResult {
    const at = (form: string): string => `/api/orders/${order.id}/document?as=${form}`;
    return html`<section class="screen-only"><h2>${orderWords.files}</h2><p class="button-row">${(['pdf', 'csv', 'ubl'] as const).map((form) => html`<a class="button" href=${at(form)} download>${orderWords[form]}</a>`)}</p></section>`;
  }

  #renderEnd(watch: OrderWatch, order: PurchaseOrder): TemplateResult | typeof nothing {
    const say = orderWords;
    const came = order.lines.some(({ good, wrong, damaged }) => good + wrong + damaged > 0);
    const kind: Ending | undefined = order.state === 'part-received' ? 'closed' : came || order.ended !== null || order.state === 'received' ? undefined : 'cancelled';
    if (kind === undefined) return nothing;
    if (this.asking !== kind) return html`<section class="screen-only"><p><button type="button" @click=${() => { this.asking = kind; }}>${kind === 'closed' ? say.close : say.cancel}</button></p></section>`;
    return html`<section class="screen-only" role="alert">${kind === 'closed' ? html`<p>${say.closeHint}</p>` : nothing}<p class="button-row">
      <button type="button" ?disabled=${watch.busy} @click=${() => { this.asking = undefined; void watch.act('', { kind }); }}>${kind === 'closed' ? say.closeSure : say.cancelSure}</button>
      <button type="button" class="main" @click=${() => { this.asking = undefined; }}>${say.keep}</button></p></section>`;
  }
}
customElements.define('order-screen', OrderScreen);
