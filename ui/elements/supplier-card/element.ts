import { html, nothing, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { OfferState, ShopCard, ShopOffer, SupplierState } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { PlainElement } from '../plain-element.ts';
import { formatMoment, formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { supplierWords } from '../../words/suppliers.ts';
import { renderField } from './field.ts';
import { readCardForm, readOfferForm, type FromForm } from './form-values.ts';
import { sayLead } from './say-lead.ts';
import './supplier-card.css';

/** Offers that are shown at once. */
const SHOWN = 20;

/** One supplier: its card and calendar, its days of delivery, and what it offers. */
export class SupplierCardElement extends PlainElement {
  static override properties = {
    desk: { attribute: false }, state: { attribute: false }, shop: { attribute: false }, work: { attribute: false }, offers: { state: true }, sought: { state: true }, failed: { state: true },
    leaving: { state: true }, added: { state: true },
  };
  declare desk: Desk;
  declare state: SupplierState;
  declare shop: ShopCard;
  /** does something, reads the suppliers anew and says what came of it */
  declare work: (work: () => Promise<string>) => Promise<void>;
  declare offers: readonly OfferState[] | undefined;
  declare sought: string;
  declare failed: string;
  /** the part whose offer is about to be taken back */
  declare leaving: string | undefined;
  /** the part an offer is being added for */
  declare added: string | undefined;

  constructor() {
    super();
    this.sought = '';
    this.failed = '';
    this.leaving = undefined;
    this.added = undefined;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#readOffers();
  }

  async #readOffers(): Promise<void> {
    try {
      this.offers = await this.desk.service.listOffers(this.state.supplier.id);
    } catch (error) {
      this.failed = sayFault(error);
    }
  }

  protected override render(): TemplateResult {
    const say = supplierWords;
    const { lead, changed } = this.state;
    return html`${this.failed === '' ? nothing : html`<p class="caution" role="alert">${this.failed}</p>`}
      <section><h2>${say.lead1}</h2><p>${sayLead(lead)}.</p>${lead.days.length === 0 ? nothing : html`<p class="quiet">${say.lastDays(lead.days.join(', '))}</p>`}</section>
      <section><h2>${say.offerTitle}</h2>${this.#renderOffers()}</section>
      <section><h2>${say.card}</h2><p class="quiet">${say.needsServer}${changed === null ? nothing : html` ${say.changed(formatMoment(changed.at), changed.by ?? '')}`}</p>${this.#renderCard()}</section>`;
  }

  #renderCard(): TemplateResult {
    const say = supplierWords;
    const { supplier, currency } = this.state;
    const { calendar } = supplier;
    const shopCurrency = this.desk.shop.prices?.currency ?? currency;
    return html`<form class="stack" @submit=${(event: SubmitEvent) => { event.preventDefault(); this.#saveCard(event.target as HTMLFormElement); }}>
      <div class="figures">
        ${renderField({ id: 'card-name', name: 'name', label: say.name, value: supplier.name, maxlength: 200 })}
        ${renderField({ id: 'card-account', name: 'account', label: say.account, value: supplier.account, maxlength: 200 })}
        ${renderField({ id: 'card-contact', name: 'contact', label: say.contact, hint: say.contactHint, value: supplier.contact, rows: 3 })}
        ${renderField({ id: 'card-freight', name: 'freight', label: say.freightField, type: 'number', min: 0, value: supplier.freight, required: true })}
        ${renderField({ id: 'card-free', name: 'freeFreightFrom', label: say.freeFromField, type: 'number', min: 0, value: supplier.freeFreightFrom })}
        ${renderField({ id: 'card-least', name: 'minOrder', label: say.minOrder, type: 'number', min: 0, value: supplier.minOrder })}
        ${renderField({ id: 'card-currency', name: 'currency', label: say.currency, hint: say.currencyHint(shopCurrency), value: supplier.currency, maxlength: 3 })}
        ${renderField({ id: 'card-rate', name: 'rate', label: say.rate, hint: say.rateHint, type: 'number', min: 0, value: supplier.rate })}
        ${this.#renderTax('card-tax', say.tax, supplier.tax)}
        <label class="tick"><input type="checkbox" name="pricesWithTax" ?checked=${supplier.pricesWithTax === true}>${say.withTax}</label>
      </div>
      <h3>${say.calendar}</h3>
      <div class="figures">
        ${renderField({ id: 'card-cut-off', name: 'cutOff', label: say.cutOff, hint: say.cutOffHint, type: 'time', value: calendar?.cutOff })}
        ${renderField({ id: 'card-holidays', name: 'holidays', label: say.holidays, hint: say.holidaysHint, value: calendar?.holidays?.join('\n'), rows: 3 })}
      </div>
      <fieldset class="choices"><legend>${say.workDays}</legend><p class="quiet">${say.workDaysHint}</p><div class="choice-row">${say.days.map((day, index) => html`<label class="choice"><input type="checkbox" name="workDays" value=${index + 1}
        ?checked=${calendar?.workDays?.includes(index + 1) === true}><span>${day}</span></label>`)}</div></fieldset>
      <p><button class="main">${say.save}</button></p></form>`;
  }

  #renderTax(id: string, label: string, value: string | undefined): TemplateResult {
    return html`<div class="field"><label for=${id}>${label}</label><select id=${id} name="tax"><option value="">${supplierWords.noTax}</option>${this.shop.taxes.map((tax) => html`<option value=${tax.id} ?selected=${tax.id === value}>${tax.words}</option>`)}</select></div>`;
  }

  #renderOffers(): TemplateResult {
    const say = supplierWords;
    if (this.offers === undefined) return html`<p>${words.loading}</p>`;
    const found = this.#seek(this.offers);
    return html`<div class="field"><label for="offer-search">${say.search}</label><input id="offer-search" type="search" autocomplete="off" maxlength="100" .value=${this.sought}
        @input=${(event: Event) => { this.sought = (event.target as HTMLInputElement).value; }}></div>
      ${found.length === 0 ? html`<p>${say.noOffer}</p>` : html`<ul class="rows">${repeat(found.slice(0, SHOWN), ({ offer }) => offer.partId, (state) => this.#renderOffer(state))}</ul>`}
      ${found.length <= SHOWN ? nothing : html`<p class="quiet">${say.more(found.length - SHOWN)}</p>`}
      <details><summary>${say.addOffer}</summary>${this.added === undefined ? html`<form class="stack narrow" @submit=${(event: SubmitEvent) => { event.preventDefault(); this.#beginOffer(event.target as HTMLFormElement); }}>
        ${renderField({ id: 'offer-part', name: 'partId', label: say.partId, required: true, maxlength: 200 })}<p><button>${say.addOffer}</button></p></form>`
        : html`<p><b>${this.#nameOf(this.added)}</b> <span class="number">${this.added}</span></p>${this.#renderOfferForm(this.added, undefined)}`}</details>`;
  }

  #seek(offers: readonly OfferState[]): readonly OfferState[] {
    const sought = this.sought.trim().toLowerCase();
    if (sought === '') return offers;
    return offers.filter(({ offer: { partId } }) => {
      const part = this.desk.shop.parts.get(partId);
      return [partId, part?.title ?? '', ...(part?.numbers ?? []).map(({ number }) => number)].some((text) => text.toLowerCase().includes(sought));
    });
  }

  #nameOf(partId: string): string { return this.desk.shop.parts.get(partId)?.title ?? partId; }

  #renderOffer({ offer, changed }: OfferState): TemplateResult {
    const say = supplierWords;
    const money = (amount: number): string => formatMoney(amount, this.state.currency);
    const { partId } = offer;
    const least = Math.max(offer.minQty ?? 1, offer.pack ?? 1);
    return html`<li class="offer"><p><b>${this.#nameOf(partId)}</b> <span class="number">${partId}</span><br>${[
      say.offer(money(offer.price), offer.leadDays), ...(offer.breaks ?? []).map(({ minQty, price }) => `${minQty}+ ${money(price)}`),
      ...(offer.pack === undefined ? [] : [`${say.pack.toLowerCase()} ${offer.pack}`]), ...(offer.validUntil === undefined ? [] : [`${say.validUntil.toLowerCase()} ${offer.validUntil}`]),
    ].join('; ')}</p>
      <form class="field-row" @submit=${(event: SubmitEvent) => { event.preventDefault(); void this.#order(partId, Number(new FormData(event.target as HTMLFormElement).get('qty'))); }}>
        <label class="visually-hidden" for="order-${partId}">${say.orderQty}: ${this.#nameOf(partId)}</label>
        <input id="order-${partId}" class="short" name="qty" type="number" inputmode="numeric" min="1" max="1000000" step="1" required value=${least}><button>${words.get.draft}</button></form>
      <details><summary>${say.editOffer} <span class="visually-hidden">${this.#nameOf(partId)}</span></summary>
        ${changed === null ? nothing : html`<p class="quiet">${say.changed(formatMoment(changed.at), changed.by ?? '')}</p>`}
        ${this.#renderOfferForm(partId, offer)}
        ${this.leaving === partId ? html`<p class="button-row"><button type="button" @click=${() => { void this.#writeOffer(partId, null); }}>${say.takeBackSure}</button>
          <button type="button" class="main" @click=${() => { this.leaving = undefined; }}>${say.keep}</button></p>`
          : html`<p><button type="button" class="plain" @click=${() => { this.leaving = partId; }}>${say.takeBack}</button></p>`}</details></li>`;
  }

  #renderOfferForm(partId: string, offer: ShopOffer | undefined): TemplateResult {
    const say = supplierWords;
    const at = (name: string): string => `${name}-${partId}`;
    return html`<form class="stack" @submit=${(event: SubmitEvent) => {
      event.preventDefault();
      const read = readOfferForm(event.target as HTMLFormElement, this.state.supplier.id, partId);
      if (this.#take(read)) void this.#writeOffer(partId, read.value);
    }}><div class="figures">
      ${renderField({ id: at('price'), name: 'price', label: say.price, type: 'number', min: 0, value: offer?.price, required: true })}
      ${renderField({ id: at('lead'), name: 'leadDays', label: say.leadDays, type: 'number', min: 0, step: '1', value: offer?.leadDays, required: true })}
      ${renderField({ id: at('pack'), name: 'pack', label: say.pack, type: 'number', min: 1, step: '1', value: offer?.pack })}
      ${renderField({ id: at('min'), name: 'minQty', label: say.minQty, type: 'number', min: 1, step: '1', value: offer?.minQty })}
      ${renderField({ id: at('breaks'), name: 'breaks', label: say.breaks, hint: say.breaksHint, value: offer?.breaks?.map(({ minQty, price }) => `${minQty}: ${price}`).join('\n'), rows: 2 })}
      ${renderField({ id: at('until'), name: 'validUntil', label: say.validUntil, type: 'date', value: offer?.validUntil })}
      ${renderField({ id: at('stock'), name: 'inStock', label: say.inStock, type: 'number', min: 0, step: '1', value: offer?.inStock })}
      ${renderField({ id: at('core'), name: 'coreCharge', label: say.core, type: 'number', min: 0, value: offer?.coreCharge })}
      ${this.#renderTax(at('tax'), say.offerTax, offer?.tax)}
    </div><p><button class="main">${say.save}</button></p></form>`;
  }

  /** Whether a form read; what is wrong with it is said. */
  #take<T>(read: FromForm<T>): read is { readonly ok: true; readonly value: T } {
    this.failed = read.ok ? '' : read.why;
    return read.ok;
  }

  #saveCard(form: HTMLFormElement): void {
    const read = readCardForm(form, this.state.supplier.id);
    if (!this.#take(read)) return;
    void this.work(async () => {
      await this.desk.service.writeSupplier({ ...this.#signed(), supplier: read.value });
      return supplierWords.saved;
    });
  }

  #beginOffer(form: HTMLFormElement): void {
    const partId = String(new FormData(form).get('partId')).trim();
    if (this.desk.shop.parts.get(partId) === undefined && this.desk.shop.parts.size > 0) {
      this.failed = supplierWords.noPart;
      return;
    }
    this.failed = '';
    this.added = partId;
  }

  async #writeOffer(partId: string, offer: ShopOffer | null): Promise<void> {
    await this.work(async () => {
      await this.desk.service.writeOffer(this.state.supplier.id, { ...this.#signed(), partId, offer });
      this.leaving = undefined;
      this.added = undefined;
      return supplierWords.saved;
    });
    await this.#readOffers();
  }

  /** Lays the part into this supplier's open draft, or begins one, and shows it. */
  async #order(partId: string, qty: number): Promise<void> {
    const { id: supplierId } = this.state.supplier;
    const { service, newId } = this.desk;
    await this.work(async () => {
      const draft = (await service.listOrders()).find((order) => order.supplierId === supplierId && order.state === 'draft');
      const order = draft === undefined ? await service.draftOrder({ ...this.#signed(), supplierId, lines: [{ lineId: newId(), partId, qty }] })
        : await this.#addTo(draft.id, partId, qty);
      this.desk.go(`/orders/${order.id}`);
      return '';
    });
  }

  async #addTo(orderId: string, partId: string, qty: number): Promise<{ id: string }> {
    const { service, newId } = this.desk;
    const line = (await service.readOrder(orderId)).lines.find((each) => each.partId === partId);
    const change = line === undefined ? { lineId: newId(), partId, qty } : { lineId: line.lineId, qty: line.qty + qty };
    return service.actOnOrder(orderId, [{ ...this.#signed(), kind: 'changed', lines: [change] }]);
  }

  #signed(): { id: string; at: string; by?: string } {
    const { author } = this.desk.settings.values;
    return { id: this.desk.newId(), at: this.desk.now().toISOString(), ...(author === '' ? {} : { by: author }) };
  }
}
customElements.define('supplier-card', SupplierCardElement);
