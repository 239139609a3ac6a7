import { html, nothing, type TemplateResult } from 'lit';
import type { ShopCard, SupplierState } from '../../../catalog-schema/index.ts';
import type { Desk } from '../../client/index.ts';
import { followChanges, PlainElement } from '../../elements/plain-element.ts';
import '../../elements/supplier-card/element.ts';
import { renderField } from '../../elements/supplier-card/field.ts';
import { readTaxes } from '../../elements/supplier-card/read-lines.ts';
import { sayLead } from '../../elements/supplier-card/say-lead.ts';
import { formatMoment, formatMoney } from '../../format.ts';
import { sayFault } from '../../say-fault.ts';
import { words } from '../../words.ts';
import { supplierWords } from '../../words/suppliers.ts';

/** Every supplier with its terms and what its deliveries taught; or one of them, with its calendar and its offers. */
export class SuppliersScreen extends PlainElement {
  static override properties = { desk: { attribute: false }, supplierId: {}, suppliers: { state: true }, shop: { state: true }, failed: { state: true }, said: { state: true }, busy: { state: true } };
  declare desk: Desk;
  /** the one that is open */
  declare supplierId: string | undefined;
  declare suppliers: readonly SupplierState[] | undefined;
  declare shop: ShopCard | undefined;
  declare failed: string;
  declare said: string;
  declare busy: boolean;

  constructor() {
    super();
    this.supplierId = undefined;
    this.failed = '';
    this.said = '';
    this.busy = false;
    followChanges(this, () => [this.desk?.device, this.desk?.shop]);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.desk.shop.open().catch(() => {});
    void this.#try(async () => '');
  }

  /** Does something, reads everything anew, and says what came of it. */
  async #try(work: () => Promise<string>): Promise<void> {
    if (this.busy) return;
    this.busy = true;
    [this.failed, this.said] = ['', ''];
    try {
      const said = await work();
      [this.suppliers, this.shop] = await Promise.all([this.desk.service.listSuppliers(), this.desk.service.readShopCard()]);
      this.said = said;
    } catch (error) {
      this.failed = sayFault(error);
    }
    this.busy = false;
  }

  protected override render(): TemplateResult {
    const say = supplierWords;
    const asOf = this.desk.device.ageOf('suppliers');
    const open = this.supplierId === undefined ? undefined : this.suppliers?.find(({ supplier }) => supplier.id === this.supplierId);
    return html`<main id="sheet" tabindex="-1">${this.supplierId === undefined ? nothing : html`<p class="screen-only"><a href="/suppliers">${say.back}</a></p>`}
      <h1>${this.supplierId === undefined ? say.title : open?.supplier.name ?? this.supplierId}</h1>
      ${asOf === undefined ? nothing : html`<p class="mark-do">${say.asOf(formatMoment(asOf))}</p>`}
      ${this.failed === '' ? nothing : html`<div class="caution" role="alert"><p>${this.failed}</p><button type="button" @click=${() => { void this.#try(async () => ''); }}>${words.tryAgain}</button></div>`}
      <p role="status" class="mark-do">${this.said}</p>
      ${this.suppliers === undefined || this.shop === undefined ? (this.failed === '' ? html`<p>${words.loading}</p>` : nothing)
        : this.supplierId === undefined ? this.#renderList(this.suppliers, this.shop)
          : open === undefined ? html`<p>${words.faults['not-found']}</p>`
            : html`<supplier-card .desk=${this.desk} .state=${open} .shop=${this.shop} .work=${(work: () => Promise<string>) => this.#try(work)}></supplier-card>`}</main>`;
  }

  #renderList(suppliers: readonly SupplierState[], shop: ShopCard): TemplateResult {
    const say = supplierWords;
    return html`<p class="quiet">${say.lead}</p>
      ${suppliers.length === 0 ? html`<p>${say.none}</p>` : html`<ul class="rows">${suppliers.map((state) => this.#renderRow(state))}</ul>`}
      <section><h2>${say.add}</h2><p class="quiet">${say.needsServer}</p><form class="stack narrow" @submit=${(event: SubmitEvent) => this.#add(event)}>
        ${renderField({ id: 'supplier-id', name: 'id', label: say.id, hint: say.idHint, required: true, maxlength: 100 })}
        ${renderField({ id: 'supplier-name', name: 'name', label: say.name, maxlength: 200 })}
        <p><button class="main" ?disabled=${this.busy}>${say.add}</button></p></form></section>
      <section><h2>${say.shop}</h2><p class="quiet">${say.shopLead}</p><form class="stack narrow" @submit=${(event: SubmitEvent) => this.#saveShop(event)}>
        ${renderField({ id: 'shop-name', name: 'name', label: say.shopName, value: shop.name, maxlength: 200 })}
        ${renderField({ id: 'shop-contact', name: 'contact', label: say.shopContact, value: shop.contact, rows: 3 })}
        ${renderField({ id: 'shop-taxes', name: 'taxes', label: say.taxes, hint: say.taxesHint, value: shop.taxes.map(({ id, percent, words: name }) => `${id}, ${percent}, ${name}`).join('\n'), rows: 3 })}
        <p><button ?disabled=${this.busy}>${say.save}</button></p></form></section>`;
  }

  #renderRow({ supplier, currency, offers, counted, lead }: SupplierState): TemplateResult {
    const say = supplierWords;
    const money = (amount: number): string => formatMoney(amount, currency);
    const { freight, freeFreightFrom, minOrder } = supplier;
    return html`<li><a class="row" href="/suppliers/${encodeURIComponent(supplier.id)}"><span class="row-main">${supplier.name ?? supplier.id}</span>
      <span class="row-what">${[say.freight(money(freight)), ...(freeFreightFrom === undefined ? [] : [say.freeFrom(money(freeFreightFrom))]), ...(minOrder === undefined ? [] : [say.least(money(minOrder))])].join(', ')}
        ${counted ? nothing : html`<br><span class="mark-do">${say.notCounted}</span>`}</span>
      <span class="row-state">${sayLead(lead)}</span><small>${say.offers(offers)}</small></a></li>`;
  }

  #add(event: SubmitEvent): void {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const given = new FormData(form);
    const id = String(given.get('id')).trim();
    const name = String(given.get('name') ?? '').trim();
    if (this.suppliers?.some(({ supplier }) => supplier.id === id)) {
      this.failed = supplierWords.taken;
      return;
    }
    void this.#try(async () => {
      await this.desk.service.writeSupplier({ ...this.#signed(), supplier: { id, freight: 0, ...(name === '' ? {} : { name }) } });
      this.desk.go(`/suppliers/${encodeURIComponent(id)}`);
      return supplierWords.saved;
    });
  }

  #saveShop(event: SubmitEvent): void {
    event.preventDefault();
    const given = new FormData(event.target as HTMLFormElement);
    const taxes = readTaxes(String(given.get('taxes') ?? ''));
    if (!taxes.ok) {
      this.failed = supplierWords.badTax(taxes.line);
      return;
    }
    const [name, contact] = ['name', 'contact'].map((key) => String(given.get(key) ?? '').trim()) as [string, string];
    void this.#try(async () => {
      await this.desk.service.writeShopCard({ ...this.#signed(), shop: { taxes: taxes.value, ...(name === '' ? {} : { name }), ...(contact === '' ? {} : { contact }) } });
      return supplierWords.saved;
    });
  }

  #signed(): { id: string; at: string; by?: string } {
    const { author } = this.desk.settings.values;
    return { id: this.desk.newId(), at: this.desk.now().toISOString(), ...(author === '' ? {} : { by: author }) };
  }
}
customElements.define('suppliers-screen', SuppliersScreen);
