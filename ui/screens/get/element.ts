import { html, nothing, type TemplateResult } from 'lit';
import type { Part } from '../../../catalog-schema/index.ts';
import type { Errand, WaitingItem } from '../../client/index.ts';
import '../../elements/evidence-line/element.ts';
import '../../elements/field-choice/element.ts';
import { PlainElement } from '../../elements/plain-element.ts';
import '../../elements/waiting-line/element.ts';
import { formatArrival, formatMoment, formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import type { WorkView } from '../work-view.ts';
import '../../elements/job-plan/element.ts';
import { findCheapestOffer } from './where-to-get.ts';

/** Where the chosen part comes from: put one aside from the bin, or draft an order line. */
export class GetScreen extends PlainElement {
  static override properties = { view: { attribute: false }, qty: { state: true }, busy: { state: true }, failed: { state: true }, said: { state: true } };
  declare view: WorkView;
  declare qty: number;
  declare busy: boolean;
  declare failed: string;
  declare said: string;

  constructor() {
    super();
    this.qty = 1;
    this.busy = false;
    this.failed = '';
    this.said = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.qty = this.view.sheet.document.get?.qty ?? 1;
    void this.view.desk.shop.open().catch(() => {});
  }

  protected override render(): TemplateResult {
    const { sheet, desk, base } = this.view;
    const { chosen } = sheet.document;
    const part = chosen === undefined ? undefined : desk.shop.parts.get(chosen.partId);
    return html`<h1>${words.get.title}</h1>
      <field-choice .sheet=${sheet} .at=${[['chosen']]} .unit=${desk.settings.values.unit}></field-choice>
      ${chosen === undefined ? html`<p>${words.get.nothingChosen}</p><p><a class="button main" href="${base}/fits">${words.get.toFits}</a></p>`
        : this.#renderPart(chosen.partId, chosen.title ?? chosen.partId, part)}
      ${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      <p role="status" class="mark-do">${this.said}</p>
      ${chosen === undefined || sheet.jobId === undefined ? nothing : html`<job-plan .desk=${desk} .sheet=${sheet} .wanted=${JSON.stringify([chosen.partId, sheet.document.get, this.view.holdings.reservations.length, this.view.holdings.orderLines.length])}></job-plan>`}
      ${this.#renderHoldings()}`;
  }

  #renderPart(partId: string, title: string, part: Part | undefined): TemplateResult {
    const { shop } = this.view.desk;
    const row = shop.shelf.find((entry) => entry.partId === partId);
    const offer = findCheapestOffer(partId, this.qty, shop.prices);
    const counter = this.view.sheet.jobId === undefined;
    const asOf = this.view.desk.device.ageOf('shelf') ?? this.view.desk.device.ageOf('prices');
    return html`<h2>${part?.title ?? title} <span class="number">${partId}</span></h2>
      <evidence-line .view=${this.view} .partId=${partId}></evidence-line>
      ${asOf === undefined ? nothing : html`<p class="mark-do">${words.offline.asOf(formatMoment(asOf))}</p>`}
      <div class="field"><label for="get-qty">${words.get.qty}</label>
        <input id="get-qty" type="number" inputmode="numeric" min="1" max="99" .value=${String(this.qty)}
          @input=${(event: Event) => { const asked = Number((event.target as HTMLInputElement).value); if (Number.isInteger(asked) && asked > 0) this.qty = asked; }}
          @change=${() => { if (!counter) this.view.sheet.change([{ field: ['get', 'qty'], value: this.qty === 1 ? null : this.qty }]); }}></div>
      <dl class="facts get-facts">
        <div><dt>${words.get.shelf}</dt><dd>${row === undefined ? words.get.notOnShelf : words.get.bin(row.bin, row.free, row.onHand)}
          ${row === undefined || row.free < this.qty ? nothing : html`<button type="button" class="main" ?disabled=${this.busy} @click=${() => { void this.#reserve(partId); }}>
            ${counter ? words.get.sell(this.qty, row.bin) : words.get.reserve(this.qty, row.bin)}</button>`}</dd></div>
        <div><dt>${words.get.supplier}</dt><dd>${offer === undefined || shop.prices === undefined ? words.get.noOffer
          : html`${words.get.offer(offer.supplierId, offer.qty, formatMoney(offer.unitPrice, shop.prices.currency), formatArrival(offer.arrives, shop.prices.today))}
            <button type="button" class=${row !== undefined && row.free >= this.qty ? '' : 'main'} ?disabled=${this.busy} @click=${() => { void this.#order(partId); }}>${words.get.draft}</button>`}</dd></div>
      </dl>`;
  }

  #renderHoldings(): TemplateResult {
    const { holdings, desk, sheet } = this.view;
    const nameOf = (partId: string): string => desk.shop.parts.get(partId)?.title ?? partId;
    const today = desk.shop.prices?.today ?? desk.now().toISOString().slice(0, 10);
    const none = holdings.reservations.length === 0 && holdings.orderLines.length === 0;
    const pending = listPending(desk.device.waiting, sheet.jobId);
    const goesBack = new Set(pending.flatMap(({ errand }) => (errand?.kind === 'release' ? [errand.body.id] : [])));
    return html`<h2>${sheet.jobId === undefined ? words.get.heldCounter : words.get.heldJob}</h2>
      ${holdings.failed === '' ? nothing : html`<p class="caution">${words.get.holdingsFailed}</p>`}
      ${none && pending.length === 0 && holdings.failed === '' ? html`<p class="quiet">${words.get.nothingHeld}</p>` : nothing}
      ${none ? nothing : html`<ul class="rows">
        ${holdings.reservations.map((entry) => html`<li class="row row-held"><span class="row-main">${nameOf(entry.partId)}</span>
          <span>${words.get.held(entry.qty, entry.bin)}</span>
          ${goesBack.has(entry.id) ? html`<span>${words.offline.items.release}, ${words.offline.waits}</span>`
            : html`<button type="button" ?disabled=${this.busy} @click=${() => { void this.#release(entry.id); }}>${words.get.release}</button>`}</li>`)}
        ${holdings.orderLines.map((line) => html`<li class="row row-held"><span class="row-main">${nameOf(line.partId)}</span>
          <span>${words.get.drafted(line.qty, line.supplierId, formatMoney(line.unitPrice, line.currency), formatArrival(line.arrives, today))}</span>
          ${line.orderId === undefined || line.state === undefined ? html`<span></span>` : html`<a href="/orders/${line.orderId}">${words.orders.standing(line.orderNumber ?? 0, words.orders.states[line.state])}</a>`}</li>`)}
      </ul>`}
      ${pending.length === 0 ? nothing : html`<ul class="rows waiting-rows">${pending.map((item) => html`<li><waiting-line .desk=${desk} .item=${item}></waiting-line></li>`)}</ul>`}`;
  }

  async #reserve(partId: string): Promise<void> {
    await this.#do(words.get.reserved, (id, at, job) => ({ kind: 'reserve', body: { id, partId, qty: this.qty, at, ...job } }));
  }

  async #order(partId: string): Promise<void> {
    await this.#do(words.get.orderDrafted, (id, at, job) => ({ kind: 'order-line', body: { id, partId, qty: this.qty, at, ...job } }));
  }

  async #release(reservationId: string): Promise<void> {
    await this.#do(words.get.released, (_id, _at, job) => ({ kind: 'release', body: { id: reservationId, ...job } }));
  }

  /** One errand to the shelf or the orders; afterwards both are read again, whatever came of it. */
  async #do(said: string, makeErrand: (id: string, at: string, job: { jobId?: string }) => Exclude<Errand, { kind: 'moves' }>): Promise<void> {
    const { desk, sheet, reloadHoldings } = this.view;
    if (this.busy) return;
    this.busy = true;
    this.failed = '';
    this.said = '';
    const errand = makeErrand(desk.newId(), desk.now().toISOString(), sheet.jobId === undefined ? {} : { jobId: sheet.jobId });
    try {
      this.said = await desk.device.submit(errand) === 'sent' ? said : words.offline.kept[errand.kind];
    } catch (error) {
      this.failed = sayFault(error);
    }
    await Promise.allSettled([desk.shop.refreshShelf(), reloadHoldings(errand.body.id)]);
    this.busy = false;
  }
}
customElements.define('get-screen', GetScreen);

/** What of the shelf and the orders waits on this device, for this job or at the counter. */
function listPending(waiting: readonly WaitingItem[], jobId: string | undefined): WaitingItem[] {
  return waiting.filter((item) => item.jobId === jobId && (item.what === 'reserve' || item.what === 'release' || item.what === 'order-line'));
}
