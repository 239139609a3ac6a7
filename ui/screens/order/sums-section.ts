import { html, nothing, type TemplateResult } from 'lit';
import type { PurchaseOrder } from '../../../catalog-schema/index.ts';
import { formatMoney } from '../../format.ts';
import { orderWords } from '../../words/orders.ts';

/** What an order comes to: goods, freight, each tax, the total, and beside it the core charges. */
export function renderSums({ sums, currency, state }: PurchaseOrder): TemplateResult {
  const say = orderWords;
  const money = (amount: number): string => formatMoney(amount, currency);
  const isOpen = state === 'draft' || state === 'approved';
  return html`<section><h2>${say.sums}</h2><table class="cost-table">
    <tbody><tr><th scope="row">${say.goods}</th><td class="money">${money(sums.goods)}</td></tr>
      <tr><th scope="row">${say.freight}</th><td class="money">${sums.freight === 0 ? say.freeFreight : money(sums.freight)}</td></tr>
      ${sums.pricesWithTax ? nothing : sums.taxes.map((tax) => html`<tr><th scope="row">${say.tax(tax.words, tax.percent, money(tax.base))}</th><td class="money">${money(tax.amount)}</td></tr>`)}</tbody>
    <tfoot><tr><th scope="row">${say.total}</th><td class="money">${money(sums.total)}</td></tr></tfoot></table>
    ${sums.pricesWithTax ? sums.taxes.map((tax) => html`<p>${say.taxInside(tax.words, tax.percent)}: ${money(tax.amount)}</p>`) : nothing}
    ${sums.cores === 0 ? nothing : html`<p>${say.cores}: ${money(sums.cores)}, ${say.coresBeside}</p>`}
    ${!isOpen || sums.short === 0 ? nothing : html`<p class="mark-do">${say.short(money(sums.short))}</p>`}
    ${!isOpen || sums.toFreeFreight === null ? nothing : html`<p>${say.toFree(money(sums.toFreeFreight))}</p>`}</section>`;
}
